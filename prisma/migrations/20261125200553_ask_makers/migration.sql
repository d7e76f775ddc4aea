-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "inquiry_id" UUID;

-- CreateTable
CREATE TABLE "inquiry" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "maker_id" UUID NOT NULL,
    "asked_at" TIMESTAMPTZ(3) NOT NULL,
    "asked_by" TEXT NOT NULL,
    "document" JSONB,
    "how" TEXT,
    "told" BOOLEAN,
    "outcome" TEXT,

    CONSTRAINT "inquiry_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "inquiry_number_key" ON "inquiry"("number");

-- CreateIndex
CREATE INDEX "lens_order_clinic_id_inquiry_id_idx" ON "lens_order"("clinic_id", "inquiry_id");

-- AddForeignKey
ALTER TABLE "lens_order" ADD CONSTRAINT "lens_order_clinic_id_inquiry_id_fkey" FOREIGN KEY ("clinic_id", "inquiry_id") REFERENCES "inquiry"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
