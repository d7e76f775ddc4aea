import { makeAsk, type Ask } from '../../support/ask.js';
import { openHouse, type House, type Person } from '../../support/house.js';
import { asSuperuser, type Superuser } from '../../support/superuser.js';

/** Who takes part: a person of each role at one clinic, two coordinators among them, so that equals race too. */
export const people = {
  coordinator: 'una',
  surgeon: 'ilse',
  inventory: 'oona',
  administrator: 'ada',
  auditor: 'ivo',
} as const;
export type Hand = keyof typeof people;

export interface World {
  readonly house: House;
  readonly root: Superuser;
  readonly ask: Ask;
  readonly hands: Readonly<Record<Hand, Person>>;
}

export async function openWorld(): Promise<World> {
  const house = await openHouse({ environment: { DATABASE_POOL: '12' } });
  const root = await asSuperuser(house.db);
  const hands = {} as Record<Hand, Person>;
  for (const [hand, name] of Object.entries(people)) hands[hand as Hand] = await house.signIn(name);
  return { house, root, ask: makeAsk(house), hands };
}

export interface SeenOrder {
  readonly id: string;
  readonly number: string;
  readonly version: number;
  readonly state: string;
  readonly makerId: string;
  readonly specification: Record<string, unknown>;
  readonly specificationHash: string;
  readonly change: { number: number; amended: { specificationHash: string } | null } | null;
  readonly planned: Record<string, unknown>;
}
export interface SeenThing {
  readonly id: string;
  readonly version: number;
  readonly state: string;
  readonly serial: string;
}
/** A case as somebody looked at it, perhaps a while ago. */
export interface Seen {
  readonly caseId: string;
  readonly version: number;
  readonly stage: string;
  readonly exchanging: boolean;
  readonly inEye: boolean;
  readonly order: SeenOrder | null;
  readonly lenses: readonly SeenThing[];
  readonly returns: readonly SeenThing[];
}

const looking = `
  select c.id as "caseId", c.version, c.stage,
    exists (select from exchange e where e.case_id = c.id and e.ended_at is null) as exchanging,
    exists (select from implantation i where i.case_id = c.id and i.explanted_on is null) as "inEye",
    (select jsonb_build_object('id', o.id, 'number', o.number, 'version', o.version, 'state', o.state,
       'makerId', o.maker_id, 'specification', o.specification, 'specificationHash', o.specification_hash,
       'change', o.change, 'planned', p.choice)
     from lens_order o join plan p on p.id = o.plan_id
     where o.case_id = c.id order by o.round desc, o.opened_at desc, o.number desc limit 1) as "order",
    (select coalesce(jsonb_agg(jsonb_build_object('id', l.id, 'version', l.version, 'state', l.state,
       'serial', l.serial) order by l.received_at desc), '[]')
     from lens_unit l join lens_order o on o.id = l.order_id where o.case_id = c.id) as lenses,
    (select coalesce(jsonb_agg(jsonb_build_object('id', r.id, 'version', r.version, 'state', r.state,
       'serial', l.serial) order by r.opened_at desc), '[]')
     from lens_return r join lens_unit l on l.id = r.lens_id join lens_order o on o.id = l.order_id
     where o.case_id = c.id) as returns
  from eye_case c where c.id = any ($1::uuid[]) order by c.code`;

export const lookAt = ({ root }: World, caseIds: readonly string[]): Promise<Seen[]> =>
  root.rows<Seen>(looking, [caseIds]);

/** Everything on record about some cases, as one hash for each table: equal before and after means no trace. */
export async function digest({ root }: World, caseIds: readonly string[]): Promise<Record<string, string>> {
  const ofOrders = 'order_id in (select id from lens_order where case_id = any ($1::uuid[]))';
  const ofCases = 'case_id = any ($1::uuid[])';
  const where: Record<string, string> = {
    eye_case: 'id = any ($1::uuid[])',
    measurement: ofCases,
    plan: ofCases,
    lens_order: ofCases,
    signature: ofOrders,
    delivery: ofOrders,
    lens_unit: ofOrders,
    implantation: ofCases,
    exchange: ofCases,
    lens_return: `lens_id in (select id from lens_unit where ${ofOrders})`,
    audit_entry: `${ofCases} or ${ofOrders}`,
    outbox_event: `payload->>'orderId' in (select id::text from lens_order where ${ofCases})
      or payload->>'returnId' is not null`,
  };
  const parts = Object.entries(where).map(
    ([table, which]) =>
      `(select coalesce(md5(string_agg(t::text, '|' order by t::text)), '') from "${table}" t where ${which}) as "${table}"`,
  );
  return (await root.rows<Record<string, string>>(`select ${parts.join(', ')}`, [caseIds]))[0]!;
}
