-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "document" JSONB;
