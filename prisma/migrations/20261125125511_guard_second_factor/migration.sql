-- The new tables of the network: no clinic's data in them, open to the application, and nothing deleted from them.
do $$
declare t text;
begin
  foreach t in array array['recovery_code', 'invitation']
  loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
    execute format('create policy network on %I using (true) with check (true)', t);
    execute format('grant select, insert, update on %I to lensferry_app', t);
  end loop;
end $$;

-- A place at a clinic can be taken back; who had it when is in the clinic's record.
grant delete on clinic_member to lensferry_app;

-- A maker's number tells its clinic by a function of the owner. The owner saw every order for that; from here on it
-- sees the one row whose number the function names, for as long as the function runs.
drop policy number_lookup on lens_order;
drop policy number_lookup on lens_return;
create policy number_lookup on lens_order for select to current_user
  using (number = nullif(current_setting('app.number_sought', true), ''));
create policy number_lookup on lens_return for select to current_user
  using (number = nullif(current_setting('app.number_sought', true), ''));

create or replace function clinic_of_order(order_number text, of_maker uuid) returns uuid
  language plpgsql volatile security definer set search_path = public, pg_temp
  as $$
declare found_clinic uuid;
begin
  perform set_config('app.number_sought', order_number, true);
  select clinic_id into found_clinic from lens_order where number = order_number and maker_id = of_maker;
  perform set_config('app.number_sought', '', true);
  return found_clinic;
end $$;
create or replace function clinic_of_return(return_number text, of_maker uuid) returns uuid
  language plpgsql volatile security definer set search_path = public, pg_temp
  as $$
declare found_clinic uuid;
begin
  perform set_config('app.number_sought', return_number, true);
  select clinic_id into found_clinic from lens_return where number = return_number and maker_id = of_maker;
  perform set_config('app.number_sought', '', true);
  return found_clinic;
end $$;
