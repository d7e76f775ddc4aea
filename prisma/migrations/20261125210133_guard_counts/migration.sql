alter table stock_count enable row level security;
alter table stock_count force row level security;
create policy clinic on stock_count to lensferry_app
  using (clinic_id = any ((select app_clinic_ids())::uuid[]))
  with check (clinic_id = any ((select app_clinic_ids())::uuid[]));
grant select, insert, update on stock_count to lensferry_app;

alter table count_reading enable row level security;
alter table count_reading force row level security;
create policy clinic on count_reading to lensferry_app
  using (clinic_id = any ((select app_clinic_ids())::uuid[]))
  with check (clinic_id = any ((select app_clinic_ids())::uuid[]));
grant select, insert on count_reading to lensferry_app;

-- A place is counted once at a time.
create unique index one_open_count_of_a_place on stock_count (clinic_id, lower(location)) where state = 'open';
