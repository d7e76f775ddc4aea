-- What a maker still owes, found without reading every order that is under way: each forecast counts its open ones.
CREATE INDEX "lens_order_awaited" ON "lens_order"("clinic_id", "maker_id", "sent_at")
  WHERE "lead_days" IS NULL AND "sent_at" IS NOT NULL;
