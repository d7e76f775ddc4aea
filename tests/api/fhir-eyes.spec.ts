import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OutcomeReport } from '../../packages/contracts/src/index.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { faultsOf } from '../support/fhir-judges.js';
import { openHouse, type House } from '../support/house.js';
import { tellPasts, type Past } from '../support/pasts.js';

const pasts: readonly Past[] = [
  ['closed', 'EST', 'QUILLON', 460],
  ['closed', 'EST', 'FENNICK', 500],
  ['followed-up', 'EST', 'QUILLON', 130],
  ['exchanged', 'EST', 'QUILLON', 400],
  ['closed', 'HAR', 'QUILLON', 520],
];

interface Found {
  readonly resourceType: string;
  readonly id: string;
  readonly subject?: { readonly reference: string };
  readonly code?: { readonly text: string };
  readonly performedDateTime?: string;
  readonly effectiveDateTime?: string;
}
interface Bundle {
  readonly resourceType: string;
  readonly entry?: readonly { readonly fullUrl: string; readonly resource: Found }[];
}

describe('selected eyes as a FHIR bundle', () => {
  const clock = new SetClock(new Date());
  let house: House;
  let text = '';
  let bundle: Bundle;

  beforeAll(async () => {
    house = await openHouse({ clock });
    await tellPasts(house, clock, pasts, 77);
    ({ text, bundle } = await ask('una'));
  }, 180_000);
  afterAll(() => house?.close());

  const ask = async (name: string, query = ''): Promise<{ text: string; bundle: Bundle }> => {
    const { cookie } = await house.signIn(name);
    const answer = await house.app.inject({ url: `/api/outcomes/eyes.fhir${query}`, headers: { cookie } });
    expect(answer.statusCode, answer.payload.slice(0, 300)).toBe(200);
    expect(answer.headers['content-type']).toBe('application/fhir+json');
    return { text: answer.payload, bundle: JSON.parse(answer.payload) as Bundle };
  };
  const all = (of: Bundle, type: string): Found[] =>
    (of.entry ?? []).map(({ resource }) => resource).filter(({ resourceType }) => resourceType === type);
  const surgeries = (of: Bundle): Found[] => all(of, 'Procedure').filter((one) => one.performedDateTime);
  const past = async <Row>(sql: string): Promise<Row[]> => {
    const client = new pg.Client({ connectionString: house.db.superuserUrl });
    await client.connect();
    try {
      return (await client.query(sql)).rows as Row[];
    } finally {
      await client.end();
    }
  };

  it('is valid by two validators, refers to nothing outside, and holds nothing twice', async () => {
    expect(faultsOf(bundle)).toEqual([]);
    const urls = (bundle.entry ?? []).map(({ fullUrl }) => fullUrl);
    expect(new Set(urls).size).toBe(urls.length);
    const references = [...text.matchAll(/"reference":"([^"]+)"/g)].map(([, url]) => url);
    expect(references.length).toBeGreaterThan(urls.length);
    expect(references.filter((url) => !urls.includes(url!))).toEqual([]);
    // An answer without any eye is a bundle too.
    const none = await ask('una', '?minimumMonths=120');
    expect(none.bundle.entry).toBeUndefined();
    expect(faultsOf(none.bundle)).toEqual([]);
  });

  it('tells the eyes that are asked for: surgery, lens, and what was measured before and after', async () => {
    expect(surgeries(bundle)).toHaveLength(4);
    expect(all(bundle, 'Device')).toHaveLength(4);
    const names = new Set(all(bundle, 'Observation').map(({ code }) => code!.text));
    for (const name of [
      'refraction',
      'corrected distance visual acuity',
      'uncorrected distance visual acuity',
      'vault',
    ])
      expect(names).toContain(name);
    const una = await house.signIn('una');
    for (const query of ['?cylinder=from4', '?cylinder=below4']) {
      const { body } = await una.get<OutcomeReport>(`/api/outcomes${query}`);
      expect(surgeries((await ask('una', query)).bundle)).toHaveLength(
        body.figures.eyes + body.figures.tooEarly,
      );
    }
    expect(surgeries((await ask('una', '?minimumMonths=12')).bundle).length).toBeLessThan(4);
  });

  it('moves the days of a patient all by the same, so that their distances stay', async () => {
    const truly = new Set(
      (await past<{ day: string }>('select performed_on::text as day from implantation')).map(
        ({ day }) => day,
      ),
    );
    expect(surgeries(bundle).filter((one) => truly.has(one.performedDateTime!)).length).toBeLessThan(4);
    const distances = surgeries(bundle).map((surgery) => {
      const after = all(bundle, 'Observation')
        .filter((one) => one.subject?.reference === surgery.subject?.reference && one.effectiveDateTime)
        .map(
          (one) => (Date.parse(one.effectiveDateTime!) - Date.parse(surgery.performedDateTime!)) / 86_400_000,
        );
      return [...new Set(after)].sort((x, y) => x - y).join(' ');
    });
    const rows = await past<{ days: string }>(
      `select string_agg(distinct lpad((m.taken_on - i.performed_on)::text, 4, '0'), ' ') as days
       from implantation i join measurement m on m.case_id = i.case_id and m.taken_on >= i.performed_on
       join clinic c on c.id = i.clinic_id
       where i.explanted_on is null and c.code = 'EST' and m.kind in ('refraction', 'vault') group by i.id`,
    );
    const truth = rows.map(({ days }) => days.split(' ').map(Number).join(' '));
    expect(distances.sort()).toEqual(truth.sort());
  });

  it('holds nobody’s name, code, id or serial number, and hides small groups', async () => {
    const cases = await past<Record<string, string>>(
      'select c.id, c.code, p.id as patient, p.code_name as name from eye_case c join patient p on p.id = c.patient_id',
    );
    expect(cases).toHaveLength(pasts.length);
    const units = await past<Record<string, string>>('select id, serial, lot from lens_unit');
    const orders = await past<Record<string, string>>('select id, number from lens_order');
    const people = await past<Record<string, string>>('select id, name from person');
    for (const row of [...cases, ...units, ...orders, ...people])
      for (const secret of Object.values(row)) if (secret) expect(text).not.toContain(secret);
    for (const word of ['Demo patient', 'birthDate', 'Vault far above']) expect(text).not.toContain(word);
    expect(text).toContain('Estuary Clinic');
    const { text: pooled } = await ask('ada');
    for (const name of ['Harbour Row', 'Estuary Clinic', 'Fennick Bench']) expect(pooled).not.toContain(name);
  });

  it('keeps its pseudonyms from one export to the next, and stands on record', async () => {
    expect((await ask('una')).bundle).toEqual(bundle);
    const kept = await past<{ facts: object }>(
      "select facts from audit_entry where action = 'outcome.export'",
    );
    expect(kept.map(({ facts }) => facts)).toContainEqual({ identified: false, as: 'fhir', eyes: 4 });
  });
});
