-- CreateEnum
CREATE TYPE "TransferState" AS ENUM ('offered', 'accepted', 'sent', 'received', 'refused', 'withdrawn', 'declined', 'taken_back', 'lost');

-- AlterEnum
ALTER TYPE "LensState" ADD VALUE 'handed_over';

-- AlterTable
ALTER TABLE "lens_unit" ADD COLUMN     "made_under" TEXT;

-- CreateTable
CREATE TABLE "lens_transfer" (
    "from_clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "lens_id" UUID NOT NULL,
    "to_clinic_id" UUID,
    "order_id" UUID,
    "arrived_lens_id" UUID,
    "maker_id" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "lot" TEXT,
    "gtin" TEXT,
    "expires_on" DATE NOT NULL,
    "design_code" TEXT NOT NULL,
    "made_under" TEXT NOT NULL,
    "lens" JSONB NOT NULL,
    "state" "TransferState" NOT NULL,
    "state_since" TIMESTAMPTZ(3) NOT NULL,
    "tracking" TEXT,
    "note" TEXT,
    "offered_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "lens_transfer_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "lens_transfer_from_clinic_id_state_idx" ON "lens_transfer"("from_clinic_id", "state");

-- CreateIndex
CREATE INDEX "lens_transfer_to_clinic_id_state_idx" ON "lens_transfer"("to_clinic_id", "state");

-- CreateIndex
CREATE INDEX "lens_transfer_from_clinic_id_lens_id_idx" ON "lens_transfer"("from_clinic_id", "lens_id");

-- CreateIndex
CREATE INDEX "lens_unit_maker_id_serial_idx" ON "lens_unit"("maker_id", "serial");

-- AddForeignKey
ALTER TABLE "lens_transfer" ADD CONSTRAINT "lens_transfer_from_clinic_id_lens_id_fkey" FOREIGN KEY ("from_clinic_id", "lens_id") REFERENCES "lens_unit"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
