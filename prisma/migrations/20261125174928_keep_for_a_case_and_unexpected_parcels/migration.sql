-- CreateEnum
CREATE TYPE "LensOwner" AS ENUM ('clinic', 'consignment', 'maker');

-- CreateEnum
CREATE TYPE "ParcelState" AS ENUM ('kept', 'matched', 'sent_back', 'handed_over');

-- AlterTable
ALTER TABLE "lens_unit" ADD COLUMN     "damaged" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "owner" "LensOwner" NOT NULL DEFAULT 'clinic';

-- CreateTable
CREATE TABLE "unexpected_parcel" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "found" JSONB NOT NULL,
    "label_text" TEXT NOT NULL,
    "location" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "state" "ParcelState" NOT NULL,
    "state_since" TIMESTAMPTZ(3) NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "received_by" UUID NOT NULL,
    "order_id" UUID,
    "ended_why" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "unexpected_parcel_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateIndex
CREATE INDEX "unexpected_parcel_clinic_id_state_idx" ON "unexpected_parcel"("clinic_id", "state");
