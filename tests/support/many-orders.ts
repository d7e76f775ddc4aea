import type { House } from './house.js';
import { sceneAt } from './scenes.js';
import { asSuperuser, type Superuser } from './superuser.js';

/** Copies of one order of the scene at each of two clinics, in every third state, ties and days not set among them. */
export async function manyOrders(house: House, each: number): Promise<Superuser> {
  await sceneAt(house, 'draft', { clinic: 'EST' });
  await sceneAt(house, 'draft', { clinic: 'NOR' });
  const db = await asSuperuser(house.db);
  const columns = await db.rows<{ name: string }>(
    `select column_name as name from information_schema.columns
     where table_name = 'lens_order' and table_schema = 'public' and is_generated = 'NEVER'`,
  );
  const changed: Record<string, string> = {
    id: 'gen_random_uuid()',
    number: `o.number || '-' || lpad(n::text, 7, '0')`,
    round: 'n + 1',
    placed_at: 'now()',
    state: `(array['draft', 'sent', 'accepted']::"OrderState"[])[1 + n % 3]`,
    opened_at: `timestamptz '2020-01-01' + (n / 2) * interval '7 minutes'`,
    need_by: `case when n % 5 = 0 then null else date '2020-01-01' + n % 900 end`,
  };
  const names = columns.map(({ name }) => `"${name}"`).join(', ');
  const values = columns.map(({ name }) => changed[name] ?? `o."${name}"`).join(', ');
  await db.rows(
    `insert into lens_order (${names}) select ${values} from lens_order o, generate_series(1, $1) n`,
    [each],
  );
  await db.rows('analyze');
  return db;
}
