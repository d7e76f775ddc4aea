-- A serial is looked up in the whole network by a function of the owner. The owner saw every lens for that; from here on
-- it sees the units of the one serial that the function names, for as long as the function runs.
drop policy serial_lookup on lens_unit;
create policy serial_lookup on lens_unit for select to current_user
  using (serial = nullif(current_setting('app.serial_sought', true), ''));

create or replace function serial_known(of_serial text, of_maker uuid) returns boolean
  language plpgsql volatile security definer set search_path = public, pg_temp
  as $$
declare known boolean;
begin
  perform set_config('app.serial_sought', of_serial, true);
  select exists (select from lens_unit where serial = of_serial and (of_maker is null or maker_id = of_maker)) into known;
  perform set_config('app.serial_sought', '', true);
  return known;
end $$;
