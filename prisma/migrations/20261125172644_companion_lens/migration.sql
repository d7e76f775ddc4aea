-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "companion_of" UUID;

-- CreateIndex
CREATE INDEX "lens_order_clinic_id_companion_of_idx" ON "lens_order"("clinic_id", "companion_of");

-- AddForeignKey
ALTER TABLE "lens_order" ADD CONSTRAINT "lens_order_clinic_id_companion_of_fkey" FOREIGN KEY ("clinic_id", "companion_of") REFERENCES "lens_order"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A round still has one live order that its case waits for, and that one has at most one live order beside it.
drop index one_live_order_a_round;
create unique index one_live_order_a_round on lens_order (clinic_id, case_id, round)
  where companion_of is null and state not in ('accepted', 'rejected', 'declined', 'cancelled');
create unique index one_live_companion on lens_order (clinic_id, companion_of)
  where companion_of is not null and state not in ('accepted', 'rejected', 'declined', 'cancelled');
