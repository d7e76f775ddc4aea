-- AlterTable
ALTER TABLE "pool_part" ADD COLUMN "withdrawn_on" DATE;

-- A part that fell below five is out of every answer, but its row stays: what comes back is held against whom it was
-- of, so that leaving and coming back tells of no fewer than five either.
create or replace function pooled_sums(wanted text)
  returns table (part text, clinics int, eyes int, oldest date, newest date, sums double precision[])
  language sql stable security definer set search_path = public, pg_temp
  as $$
    with others as (
      select p.* from pool_part p
      where p.kind = wanted and p.withdrawn_on is null
        and not p.clinic_id = any ((select app_clinic_ids())::uuid[])
    ), enough as (
      select o.of, count(*)::int as clinics, sum(o.eyes)::int as eyes, min(o.taken_on) as oldest, max(o.taken_on) as newest
      from others o group by o.of
      having count(*) >= 2 and max(o.eyes) <= 0.8 * sum(o.eyes)
        and min(cardinality(o.sums)) = max(cardinality(o.sums))
    )
    select e.of, e.clinics, e.eyes, e.oldest, e.newest, array(
      select sum(u.value) from others o, unnest(o.sums) with ordinality u (value, place)
      where o.of = e.of group by u.place order by u.place)
    from enough e order by e.of
  $$;
