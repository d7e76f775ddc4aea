-- The ledger is one list of orders and returns by the day each counts from. Written as in ledger.queries.ts, so that
-- both are read in that order and merged; case instead of coalesce, which counts as leaky.
CREATE INDEX "lens_order_by_charge" ON "lens_order"("clinic_id", (CASE WHEN "shipped_at" IS NULL THEN "arrived_at" ELSE "shipped_at" END), "id")
  WHERE (CASE WHEN "shipped_at" IS NULL THEN "arrived_at" ELSE "shipped_at" END) IS NOT NULL;
CREATE INDEX "lens_return_by_ledger_day" ON "lens_return"("clinic_id", (CASE WHEN "state_key" IN (hashenum('credited'::"ReturnState"), hashenum('written_off'::"ReturnState")) THEN "state_since" ELSE "opened_at" END), "id");
