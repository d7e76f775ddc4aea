-- Clinic isolation by the database itself, and what only the database can promise.

-- Two roles that nobody signs in as. The login of DATABASE_URL takes one of them at the start of each connection.
do $$
begin
  if not exists (select from pg_roles where rolname = 'lensferry_app') then
    create role lensferry_app nologin nobypassrls;
  end if;
  if not exists (select from pg_roles where rolname = 'lensferry_relay') then
    create role lensferry_relay nologin nobypassrls;
  end if;
end $$;
grant lensferry_app, lensferry_relay to current_user;

-- The clinics that the present transaction works for, set with set_config('app.clinic_ids', '{…}', true).
create function app_clinic_ids() returns uuid[] language sql stable
  as $$ select coalesce(nullif(current_setting('app.clinic_ids', true), ''), '{}')::uuid[] $$;

-- A maker quotes an order or return number; this tells its clinic, and nothing else, so that the handler can work for it.
create function clinic_of_order(order_number text, of_maker uuid) returns uuid
  language sql stable security definer set search_path = public, pg_temp
  as $$ select clinic_id from lens_order where number = order_number and maker_id = of_maker $$;
create function clinic_of_return(return_number text, of_maker uuid) returns uuid
  language sql stable security definer set search_path = public, pg_temp
  as $$ select clinic_id from lens_return where number = return_number and maker_id = of_maker $$;
-- The function's owner is subject to FORCE too, so it gets one narrow way to look a number up.
create policy number_lookup on lens_order for select to current_user using (true);
create policy number_lookup on lens_return for select to current_user using (true);

-- Tables of the network: no clinic's data in them, open to the application.
do $$
declare t text;
begin
  foreach t in array array['clinic', 'clinic_member', 'person', 'session', 'sign_in_attempt', 'network_setting',
                           'maker', 'design', 'design_version']
  loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
    execute format('create policy network on %I using (true) with check (true)', t);
  end loop;
end $$;

-- Tables of a clinic: only the rows of the clinics that the transaction works for.
do $$
declare t text;
begin
  foreach t in array array['patient', 'patient_identity', 'eye_case', 'measurement', 'plan', 'lens_order', 'signature',
                           'delivery', 'maker_message', 'lens_unit', 'implantation', 'exchange', 'lens_return',
                           'audit_entry', 'audit_head', 'counter', 'outbox_event']
  loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
    execute format('create policy clinic on %I to lensferry_app '
      'using (clinic_id = any ((select app_clinic_ids())::uuid[])) '
      'with check (clinic_id = any ((select app_clinic_ids())::uuid[]))', t);
  end loop;
end $$;

-- The relay moves outbox rows of every clinic to the queue; it sees identifiers and nothing else.
create policy relay on outbox_event to lensferry_relay using (true);

grant usage on schema public to lensferry_app, lensferry_relay;
grant select, insert, update on all tables in schema public to lensferry_app;
grant delete on session, sign_in_attempt to lensferry_app;
grant select, update on outbox_event to lensferry_relay;
grant execute on all functions in schema public to lensferry_app;

-- The record is only ever added to.
revoke update on audit_entry, maker_message, delivery, measurement, plan from lensferry_app;
do $$ begin
  if to_regclass('_prisma_migrations') is not null then revoke insert, update on _prisma_migrations from lensferry_app; end if;
end $$;

-- What must never be, whatever the code does.
create unique index one_live_order_a_round on lens_order (clinic_id, case_id, round)
  where state not in ('accepted', 'rejected', 'declined', 'cancelled');
create unique index one_lens_in_an_eye on implantation (clinic_id, case_id) where explanted_on is null;
create unique index one_eye_for_a_lens on implantation (clinic_id, lens_id);
create unique index one_open_exchange on exchange (clinic_id, case_id) where ended_at is null;
create unique index one_standing_signature on signature (clinic_id, order_id) where voided_at is null;
create unique index one_open_return on lens_return (clinic_id, lens_id) where state <> 'written_off';
create index outbox_waiting on outbox_event (created_at) where done_at is null;
alter table lens_order add constraint sent_orders_were_placed
  check (state not in ('sent', 'acknowledged', 'shipped', 'arrived', 'accepted') or placed_at is not null);
alter table lens_order add constraint prices_are_not_negative check (price >= 0);
