-- AlterEnum
ALTER TYPE "Channel" ADD VALUE 'email' AFTER 'https';

-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "cancellation" JSONB;

-- AlterTable
ALTER TABLE "maker" ADD COLUMN     "order_email" TEXT,
ADD COLUMN     "paced_until" TIMESTAMPTZ(3),
ADD COLUMN     "sends_per_minute" INTEGER NOT NULL DEFAULT 60;

ALTER TABLE "maker" ADD CONSTRAINT makers_have_a_pace CHECK ("sends_per_minute" > 0);
