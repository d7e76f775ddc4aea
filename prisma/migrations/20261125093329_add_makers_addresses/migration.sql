-- AlterTable
ALTER TABLE "maker" ADD COLUMN     "address" TEXT,
ADD COLUMN     "website" TEXT;
