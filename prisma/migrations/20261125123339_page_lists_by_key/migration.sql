-- Lists seek a state in an index. With row-level security PostgreSQL does so only by operators it calls leakproof;
-- an enum's are not, an integer's are. hashenum needs no change when a state is added.
ALTER TABLE "eye_case" ADD COLUMN "stage_key" INTEGER NOT NULL GENERATED ALWAYS AS (hashenum("stage")) STORED;
ALTER TABLE "lens_order" ADD COLUMN "state_key" INTEGER NOT NULL GENERATED ALWAYS AS (hashenum("state")) STORED;
ALTER TABLE "lens_unit" ADD COLUMN "state_key" INTEGER NOT NULL GENERATED ALWAYS AS (hashenum("state")) STORED;
ALTER TABLE "lens_return" ADD COLUMN "state_key" INTEGER NOT NULL GENERATED ALWAYS AS (hashenum("state")) STORED;

-- DropIndex
DROP INDEX "eye_case_clinic_id_stage_idx";

-- DropIndex
DROP INDEX "lens_order_clinic_id_state_idx";

-- DropIndex
DROP INDEX "lens_return_clinic_id_state_idx";

-- DropIndex
DROP INDEX "lens_unit_clinic_id_state_idx";

-- CreateIndex
CREATE INDEX "audit_entry_clinic_id_at_seq_idx" ON "audit_entry"("clinic_id", "at", "seq");

-- CreateIndex
CREATE INDEX "eye_case_clinic_id_stage_key_stage_since_id_idx" ON "eye_case"("clinic_id", "stage_key", "stage_since", "id");

-- CreateIndex
CREATE INDEX "eye_case_clinic_id_stage_key_code_id_idx" ON "eye_case"("clinic_id", "stage_key", "code", "id");

-- CreateIndex
CREATE INDEX "lens_order_clinic_id_state_key_opened_at_id_idx" ON "lens_order"("clinic_id", "state_key", "opened_at", "id");

-- CreateIndex
CREATE INDEX "lens_order_clinic_id_state_key_number_id_idx" ON "lens_order"("clinic_id", "state_key", "number", "id");

-- CreateIndex
CREATE INDEX "lens_return_clinic_id_state_key_window_closes_on_id_idx" ON "lens_return"("clinic_id", "state_key", "window_closes_on", "id");

-- CreateIndex
CREATE INDEX "lens_return_clinic_id_state_key_opened_at_id_idx" ON "lens_return"("clinic_id", "state_key", "opened_at", "id");

-- CreateIndex
CREATE INDEX "lens_return_clinic_id_state_key_number_id_idx" ON "lens_return"("clinic_id", "state_key", "number", "id");

-- CreateIndex
CREATE INDEX "lens_unit_clinic_id_state_key_received_at_id_idx" ON "lens_unit"("clinic_id", "state_key", "received_at", "id");

-- CreateIndex
CREATE INDEX "lens_unit_clinic_id_state_key_expires_on_id_idx" ON "lens_unit"("clinic_id", "state_key", "expires_on", "id");

-- CreateIndex
CREATE INDEX "lens_unit_clinic_id_state_key_serial_id_idx" ON "lens_unit"("clinic_id", "state_key", "serial", "id");

-- CreateIndex
CREATE INDEX "lens_unit_clinic_id_order_id_idx" ON "lens_unit"("clinic_id", "order_id");

-- Days that aren't set come last in a list, so they are compared as the end of time
-- (not by coalesce, which counts as leaky).
CREATE INDEX "eye_case_by_theatre_day" ON "eye_case"("clinic_id", "stage_key", (CASE WHEN "theatre_on" IS NULL THEN 'infinity'::date ELSE "theatre_on" END), "id");
CREATE INDEX "lens_order_by_day_of_need" ON "lens_order"("clinic_id", "state_key", (CASE WHEN "need_by" IS NULL THEN 'infinity'::date ELSE "need_by" END), "id");
