-- AlterTable
ALTER TABLE "maker" ADD COLUMN     "cut_off" TEXT,
ADD COLUMN     "terms" TEXT,
ADD COLUMN     "version" INTEGER NOT NULL DEFAULT 1;
