-- One unit has one serial in the whole network; this tells whether it is taken, and nothing else of its clinic.
create function serial_known(of_serial text, of_maker uuid) returns boolean
  language sql stable security definer set search_path = public, pg_temp
  as $$ select exists (select from lens_unit where serial = of_serial and (of_maker is null or maker_id = of_maker)) $$;
create policy serial_lookup on lens_unit for select to current_user using (true);
revoke execute on function serial_known(text, uuid) from public;
grant execute on function serial_known(text, uuid) to lensferry_app;
