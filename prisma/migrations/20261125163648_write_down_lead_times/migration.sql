-- AlterTable
ALTER TABLE "lens_order" ADD COLUMN     "lead_days" INTEGER,
ADD COLUMN     "promised_days" INTEGER,
ADD COLUMN     "shipped_days" INTEGER;

-- What orders that have ended would have written down: working days after `from` up to `until`, by the maker's calendar.
CREATE FUNCTION pg_temp.works(day date, holidays jsonb) RETURNS boolean LANGUAGE sql IMMUTABLE AS
  $$ select extract(isodow from day) < 6 and not holidays ? day::text $$;
CREATE FUNCTION pg_temp.counts_from(sent timestamptz, zone text, cut_off text, holidays jsonb) RETURNS date LANGUAGE sql STABLE AS $$
  select case
    when cut_off is null then here::date
    when to_char(here, 'HH24:MI') < cut_off and pg_temp.works(here::date, holidays) then here::date
    else (select min(d::date) from generate_series(here::date + 1, here::date + 400, '1 day') d where pg_temp.works(d::date, holidays))
  end from (select sent at time zone zone as here) local $$;
CREATE FUNCTION pg_temp.days_between(first date, last date, holidays jsonb) RETURNS int LANGUAGE sql IMMUTABLE AS
  $$ select count(*)::int from generate_series(first + 1, last, '1 day') d where pg_temp.works(d::date, holidays) $$;

-- The owner is bound by the tables' policies too; for this one statement it must see every clinic's orders.
ALTER TABLE "lens_order" NO FORCE ROW LEVEL SECURITY;
UPDATE "lens_order" o SET
  "lead_days" = w.lead,
  "promised_days" = pg_temp.days_between(w.start, o.promised_on, w.holidays),
  "shipped_days" = least(w.lead, pg_temp.days_between(w.start, (o.shipped_at at time zone 'UTC')::date, w.holidays))
FROM (
  select e.clinic_id, e.id, e.holidays, e.start, pg_temp.days_between(e.start, (e.ended at time zone 'UTC')::date, e.holidays) as lead
  from (
    select o.clinic_id, o.id, m.holidays, coalesce(o.arrived_at, o.ended_at) as ended,
      pg_temp.counts_from(o.sent_at, m.time_zone, m.cut_off, m.holidays) as start
    from lens_order o join maker m on m.id = o.maker_id
    where o.sent_at is not null and (o.arrived_at is not null or (o.ended_at is not null and o.state in ('declined', 'cancelled')))
  ) e
) w
WHERE w.clinic_id = o.clinic_id AND w.id = o.id;
ALTER TABLE "lens_order" FORCE ROW LEVEL SECURITY;

-- The latest orders of a maker and class whose wait has ended, read from the index alone.
CREATE INDEX "lens_order_lead_times" ON "lens_order"("clinic_id", "maker_id", "quoted_days", "sent_at" DESC)
  INCLUDE ("lead_days", "promised_days", "shipped_days", "arrived_at", "acknowledged_at")
  WHERE "lead_days" IS NOT NULL;
