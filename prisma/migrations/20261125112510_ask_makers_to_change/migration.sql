-- AlterEnum
ALTER TYPE "OrderState" ADD VALUE 'change_proposed' AFTER 'acknowledged';
ALTER TYPE "OrderState" ADD VALUE 'change_requested' AFTER 'change_proposed';

-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "agreed_change" JSONB,
ADD COLUMN     "change" JSONB,
ADD COLUMN     "change_count" INTEGER NOT NULL DEFAULT 0;
