-- CreateEnum
CREATE TYPE "CountState" AS ENUM ('open', 'closed', 'given_up');

-- CreateTable
CREATE TABLE "stock_count" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "location" TEXT NOT NULL,
    "state" "CountState" NOT NULL,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,
    "opened_by" TEXT NOT NULL,
    "ended_at" TIMESTAMPTZ(3),
    "ended_by" TEXT,
    "result" JSONB,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "stock_count_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "count_reading" (
    "clinic_id" UUID NOT NULL,
    "count_id" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "read_at" TIMESTAMPTZ(3) NOT NULL,
    "read_by" TEXT NOT NULL,

    CONSTRAINT "count_reading_pkey" PRIMARY KEY ("clinic_id","count_id","serial")
);

-- CreateIndex
CREATE INDEX "stock_count_clinic_id_state_idx" ON "stock_count"("clinic_id", "state");

-- AddForeignKey
ALTER TABLE "count_reading" ADD CONSTRAINT "count_reading_clinic_id_count_id_fkey" FOREIGN KEY ("clinic_id", "count_id") REFERENCES "stock_count"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
