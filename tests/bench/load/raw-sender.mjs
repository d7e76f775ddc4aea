/**
 * Sending by hand: a BullMQ worker that does for each order what has to be durable and nothing else, with pg and fetch.
 * It looks the order up, posts its signed document to the maker, and writes down the attempt, the step, the outbox and
 * a link of the clinic's chain, one order at a time. It knows no lifecycle, no forecast, no stage, no pace.
 */
import { createHash, randomUUID } from 'node:crypto';
import pg from 'pg';
import { postSigned, workOnRawQueue } from './raw-parts.mjs';

const url = new URL(process.env['DATABASE_URL']);
url.searchParams.set('options', '-c role=lensferry_app');
const pool = new pg.Pool({ connectionString: url.href, max: 10 });

async function within(clinicId, write) {
  const client = await pool.connect();
  const query = (name, text, values) => client.query({ name, text, values }).then(({ rows }) => rows);
  try {
    await client.query('begin');
    await query('scope', `select set_config('app.clinic_ids', $1, true)`, [`{${clinicId}}`]);
    const answer = await write(query);
    await client.query('commit');
    return answer;
  } catch (error) {
    await client.query('rollback');
    throw error;
  } finally {
    client.release();
  }
}

async function send({ data: { orderId, clinicId, eventId } }) {
  const [order] = await within(clinicId, (query) =>
    query(
      'order',
      `select o.number, o.version, o.case_id, o.document, m.endpoint from lens_order o join maker m on m.id = o.maker_id
       where o.id = $1 and o.state = 'queued'`,
      [orderId],
    ),
  );
  const { status, at } = await postSigned(
    `${order.endpoint}/orders`,
    order.number,
    JSON.stringify(order.document),
  );
  await within(clinicId, async (query) => {
    await query(
      'delivery',
      `insert into delivery (clinic_id, id, order_id, attempt, at, status, outcome) values ($1, $2, $3, 1, $4, $5, 'sent')`,
      [clinicId, randomUUID(), orderId, at, status],
    );
    await query('done', 'update outbox_event set done_at = $2 where id = $1', [eventId, at]);
    await query(
      'step',
      `update lens_order set state = 'sent', state_since = $3, sent_at = $3, version = version + 1
       where clinic_id = $1 and id = $2 and state = 'queued' and version = $4`,
      [clinicId, orderId, at, order.version],
    );
    const [head] = await query('head', 'select seq, hash from audit_head where clinic_id = $1 for update', [
      clinicId,
    ]);
    const seq = BigInt(head.seq) + 1n;
    const hash = createHash('sha256').update(`${head.hash}${seq}${orderId}`).digest('hex');
    await query(
      'entry',
      `insert into audit_entry (clinic_id, seq, at, actor_name, actor_kind, action, case_id, order_id, facts, prev, hash)
       values ($1, $2, $3, 'By hand', 'worker', 'order.deliver', $4, $5, '{}', $6, $7)`,
      [clinicId, seq, at, order.case_id, orderId, head.hash, hash],
    );
    await query('link', 'update audit_head set seq = $2, hash = $3 where clinic_id = $1', [
      clinicId,
      seq,
      hash,
    ]);
  });
}

await workOnRawQueue(send);
