-- AlterEnum
ALTER TYPE "OrderState" ADD VALUE 'cancel_requested' AFTER 'acknowledged';

-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "cancel_asked_at" TIMESTAMPTZ(3);
