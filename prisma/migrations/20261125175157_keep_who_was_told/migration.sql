-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "telling" JSONB;
