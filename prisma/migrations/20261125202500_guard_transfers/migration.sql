-- A unit that was handed over stays on record at its giver, beside the live one at its taker.
drop index lens_unit_maker_id_serial_key;
create unique index one_live_unit_for_a_serial on lens_unit (maker_id, serial) where state <> 'handed_over';

-- A transfer is seen by its two ends; an offer to whoever needs it by everybody.
alter table lens_transfer enable row level security;
alter table lens_transfer force row level security;
create policy both_ends on lens_transfer to lensferry_app
  using (
    from_clinic_id = any ((select app_clinic_ids())::uuid[])
    or to_clinic_id = any ((select app_clinic_ids())::uuid[])
    or (to_clinic_id is null and state = 'offered' and cardinality((select app_clinic_ids())::uuid[]) > 0)
  )
  with check (
    from_clinic_id = any ((select app_clinic_ids())::uuid[])
    or to_clinic_id = any ((select app_clinic_ids())::uuid[])
  );
grant select, insert, update on lens_transfer to lensferry_app;

-- A unit is in one transfer at a time, and an order waits for one.
create unique index one_open_transfer_for_a_lens on lens_transfer (from_clinic_id, lens_id)
  where state in ('offered', 'accepted', 'sent', 'refused');
create unique index one_open_transfer_for_an_order on lens_transfer (to_clinic_id, order_id)
  where state in ('accepted', 'sent');

-- Neither end can make another unit, or another giver, of it.
create function lens_transfer_is_of_its_unit() returns trigger language plpgsql as $$
begin
  if (new.from_clinic_id, new.lens_id, new.maker_id, new.serial, new.expires_on, new.design_code, new.made_under, new.lens::text)
     is distinct from
     (old.from_clinic_id, old.lens_id, old.maker_id, old.serial, old.expires_on, old.design_code, old.made_under, old.lens::text)
  then raise exception 'A transfer keeps its unit and its giver.';
  end if;
  return new;
end $$;
create trigger lens_transfer_is_of_its_unit before update on lens_transfer
  for each row execute function lens_transfer_is_of_its_unit();
