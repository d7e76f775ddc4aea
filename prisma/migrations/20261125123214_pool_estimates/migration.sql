-- CreateTable
CREATE TABLE "pool_part" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "of" TEXT NOT NULL,
    "taken_on" DATE NOT NULL,
    "eyes" INTEGER NOT NULL,
    "subjects" UUID[],
    "sums" DOUBLE PRECISION[],

    CONSTRAINT "pool_part_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "pool_part_clinic_id_kind_of_key" ON "pool_part"("clinic_id", "kind", "of");

-- A clinic writes and reads its own parts only.
alter table pool_part enable row level security;
alter table pool_part force row level security;
create policy clinic on pool_part to lensferry_app
  using (clinic_id = any ((select app_clinic_ids())::uuid[]))
  with check (clinic_id = any ((select app_clinic_ids())::uuid[]));
grant select, insert, update on pool_part to lensferry_app;
-- No part is of fewer than five, whatever the code does.
alter table pool_part add constraint no_small_parts
  check (eyes >= 5 and cardinality(subjects) >= 5 and cardinality(sums) > 0);

-- What the other clinics come to together, and nothing of any one of them: at least two, none with more than four
-- fifths of the eyes. It takes no filter, so that no two near questions can be asked.
create policy pool_lookup on pool_part for select to current_user using (true);
create function pooled_sums(wanted text)
  returns table (part text, clinics int, eyes int, oldest date, newest date, sums double precision[])
  language sql stable security definer set search_path = public, pg_temp
  as $$
    with others as (
      select p.* from pool_part p
      where p.kind = wanted and not p.clinic_id = any ((select app_clinic_ids())::uuid[])
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
revoke execute on function pooled_sums(text) from public;
grant execute on function pooled_sums(text) to lensferry_app;
