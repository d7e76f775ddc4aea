alter table unexpected_parcel enable row level security;
alter table unexpected_parcel force row level security;
create policy clinic on unexpected_parcel to lensferry_app
  using (clinic_id = any ((select app_clinic_ids())::uuid[]))
  with check (clinic_id = any ((select app_clinic_ids())::uuid[]));
grant select, insert, update on unexpected_parcel to lensferry_app;
