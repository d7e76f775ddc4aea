-- AlterTable
ALTER TABLE "clinic" ADD COLUMN     "holidays" JSONB NOT NULL DEFAULT '[]';

-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "forecast_at_sending" JSONB;
