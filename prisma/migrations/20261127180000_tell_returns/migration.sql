-- AlterTable
ALTER TABLE "lens_return" ADD COLUMN     "telling" JSONB;
