alter table inquiry enable row level security;
alter table inquiry force row level security;
create policy clinic on inquiry to lensferry_app
  using (clinic_id = any ((select app_clinic_ids())::uuid[]))
  with check (clinic_id = any ((select app_clinic_ids())::uuid[]));
grant select, insert, update on inquiry to lensferry_app;
