-- What a maker still owes, found without reading every order that is under way: each forecast counts its open ones.
CREATE INDEX "lens_order_awaited" ON "lens_order"("clinic_id", "maker_id", "sent_at")
  WHERE "lead_days" IS NULL AND "sent_at" IS NOT NULL;

-- What came in a parcel of which something is still missing, and eyes that wait for the same, without reading all.
CREATE INDEX "lens_order_by_tracking" ON "lens_order"("clinic_id", "tracking") WHERE "tracking" IS NOT NULL;
CREATE INDEX "eye_case_awaited" ON "eye_case"("clinic_id", "awaited", "stage_since");
