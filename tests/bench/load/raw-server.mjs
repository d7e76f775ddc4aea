/**
 * The same rows from a handler written by hand with Fastify and pg and nothing else: the session, one transaction
 * under the same policies, one statement a list, and the answer's fields. It knows no lifecycle, no forecast and no
 * contract; it is what a framework may be measured against.
 */
import { createHash } from 'node:crypto';
import cookie from '@fastify/cookie';
import Fastify from 'fastify';
import pg from 'pg';

const url = new URL(process.env['DATABASE_URL']);
url.searchParams.set('options', '-c role=lensferry_app');
const pool = new pg.Pool({ connectionString: url.href, max: 10 });

const session = `select p.role, array_agg(m.clinic_id::text) as clinics from session s
  join person p on p.id = s.person_id join clinic_member m on m.person_id = p.id
  where s.token_hash = $1 and s.expires_at > now() group by p.id`;

async function within(request, read) {
  const client = await pool.connect();
  try {
    const hash = createHash('sha256').update(request.cookies['lensferry_session']).digest('hex');
    const { rows } = await client.query({ name: 'session', text: session, values: [hash] });
    const [{ clinics }] = rows;
    await client.query('begin');
    await client.query({
      name: 'scope',
      text: `select set_config('app.clinic_ids', $1, true)`,
      values: [`{${clinics.join(',')}}`],
    });
    const answer = await read((name, text, values) => client.query({ name, text, values }), clinics);
    await client.query('commit');
    return answer;
  } catch (error) {
    await client.query('rollback');
    throw error;
  } finally {
    client.release();
  }
}

const day = (column) => `to_char(${column}, 'YYYY-MM-DD')`;
const instant = (column) => `to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

/** An order with its case, clinic, maker and design. */
const orderFields = `o.id, o.number, o.state, ${instant('o.state_since')} as "stateSince", o.version,
  json_build_object('id', k.id, 'name', k.name, 'timeZone', k.time_zone) as clinic,
  json_build_object('id', c.id, 'code', c.code, 'codeName', p.code_name, 'eye', c.eye) as "case",
  json_build_object('id', m.id, 'code', m.code, 'name', m.name, 'channel', m.channel) as maker,
  d.name as "designName", o.specification, o.specification_hash as "specificationHash", o.round,
  o.replaces_lens_id is not null as "isExchange", ${instant('o.opened_at')} as "openedAt",
  ${day('o.need_by')} as "needBy", o.quoted_days as "quotedWorkingDays", ${day('o.promised_on')} as "promisedOn",
  ${day('o.first_promised_on')} as "firstPromisedOn", ${instant('o.sent_at')} as "sentAt",
  ${instant('o.acknowledged_at')} as "acknowledgedAt", ${instant('o.shipped_at')} as "shippedAt",
  ${instant('o.arrived_at')} as "arrivedAt", ${day('o.expected_on')} as "expectedOn", o.tracking, o.note,
  o.price::text as price, o.currency, o.document, o.change, o.agreed_change`;
const around = `join eye_case c on c.clinic_id = o.clinic_id and c.id = o.case_id
  join patient p on p.clinic_id = c.clinic_id and p.id = c.patient_id
  join clinic k on k.id = o.clinic_id join maker m on m.id = o.maker_id
  join design_version v on v.id = o.design_version_id join design d on d.id = v.design_id`;

const app = Fastify();
await app.register(cookie);

app.get('/api/orders', (request) =>
  within(request, async (query, clinics) => {
    const state = request.query.state;
    const perPage = Number(request.query.perPage);
    const { rows } = await query(
      'orders',
      `select ${orderFields} from (
         select r.* from unnest($1::uuid[]) s(clinic) cross join lateral (
           select * from lens_order r where r.clinic_id = s.clinic and r.state_key = hashenum($2::"OrderState")
             and r.state = $2::"OrderState" order by r.opened_at desc, r.id desc limit $3) r
         order by r.opened_at desc, r.id desc limit $3) o ${around} order by o.opened_at desc, o.id desc`,
      [clinics, state, perPage],
    );
    const { rows: counted } = await query(
      'count',
      `select count(*)::int as total from (select 1 from lens_order where clinic_id = any ($1::uuid[])
         and state = $2::"OrderState" limit 1001) counted`,
      [clinics, state],
    );
    return { items: rows, total: counted[0].total };
  }),
);

app.get('/api/cases/:id', (request) =>
  within(request, async (query) => {
    const of = [request.params.id];
    const { rows } = await query(
      'case',
      `select c.*, p.code_name, p.birth_year, k.name as clinic, s.name as surgeon from eye_case c
       join patient p on p.clinic_id = c.clinic_id and p.id = c.patient_id
       join clinic k on k.id = c.clinic_id join person s on s.id = c.surgeon_id where c.id = $1`,
      of,
    );
    const parts = {
      measurements: 'select * from measurement where case_id = $1 order by taken_on, recorded_at',
      plans: 'select * from plan where case_id = $1 order by number',
      orders: `select ${orderFields} from lens_order o ${around} where o.case_id = $1 order by o.opened_at`,
      lenses: 'select * from lens_unit where case_id = $1',
      implantations: 'select * from implantation where case_id = $1 order by performed_on',
      exchanges: 'select * from exchange where case_id = $1 order by round',
      returns:
        'select r.* from lens_return r join lens_unit l on l.clinic_id = r.clinic_id and l.id = r.lens_id where l.case_id = $1',
      identity:
        'select count(*)::int as n from patient_identity i join eye_case c on c.clinic_id = i.clinic_id and c.patient_id = i.patient_id where c.id = $1',
      people: `select id, name from person where id in (select surgeon_id from implantation where case_id = $1
        union select made_by from plan where case_id = $1 union select opened_by from exchange where case_id = $1)`,
      history: 'select * from audit_entry where case_id = $1 order by seq desc',
    };
    const answer = rows[0];
    for (const [name, text] of Object.entries(parts))
      answer[name] = (await query(`case ${name}`, text, of)).rows;
    answer.settings = (
      await query('settings', `select value from network_setting where key = 'thresholds'`, [])
    ).rows;
    return answer;
  }),
);

await app.listen({ port: Number(process.env['PORT']), host: '127.0.0.1' });
console.log('"ready"');
