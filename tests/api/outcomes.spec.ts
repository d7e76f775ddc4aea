import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CaseSummary,
  DueVisits,
  MakerLeadTimes,
  MakerScorecards,
  OutcomeComparison,
  OutcomeReport,
  RefractionOffsets,
  VaultLearnings,
} from '../../packages/contracts/src/index.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { plusDays } from '../../apps/api/dist/platform/plain-date.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { tellPasts, type Past } from '../support/pasts.js';

/** Eyes with pasts of many months, told through the use cases at two clinics: some closed, some still open. */
const pasts: readonly Past[] = [
  ...[0, 1, 2, 3].map((i) => ['closed', 'EST', i % 2 ? 'QUILLON' : 'FENNICK', 500 + i * 20] as const),
  ...[0, 1].map((i) => ['closed', 'HAR', 'QUILLON', 520 + i * 30] as const),
  ['followed-up', 'EST', 'QUILLON', 150],
  ['visit-due', 'EST', 'QUILLON', 90],
  ['credit-missing', 'EST', 'QUILLON', 400],
];

describe('outcomes over the API', () => {
  const clock = new SetClock(new Date());
  let house: House;
  let coordinator: Person;
  let elsewhere: Person;
  let administrator: Person;

  beforeAll(async () => {
    house = await openHouse({ clock });
    await tellPasts(house, clock, pasts, 77);
    [coordinator, elsewhere, administrator] = await Promise.all([
      house.signIn('una'),
      house.signIn('nikos'),
      house.signIn('ada'),
    ]);
  }, 180_000);
  afterAll(() => house.close());

  const report = async (person: Person, query = ''): Promise<OutcomeReport> => {
    const { status, body } = await person.get<OutcomeReport>(`/api/outcomes${query}`);
    expect(status).toBe(200);
    return body;
  };

  /** What was written, past every policy. */
  const past = async (sql: string): Promise<{ rows: unknown[] }> => {
    const client = new pg.Client({ connectionString: house.db.superuserUrl });
    await client.connect();
    try {
      return await client.query(sql);
    } finally {
      await client.end();
    }
  };

  it('reports the eyes of the clinics that one may see, and no others', async () => {
    const [own, other, all] = [
      await report(coordinator),
      await report(elsewhere),
      await report(administrator),
    ];
    expect([own.figures.eyes, own.figures.tooEarly]).toEqual([6, 1]);
    expect([other.figures.eyes, other.choices.clinic.map(({ label }) => label)]).toEqual([
      2,
      ['Harbour Row'],
    ]);
    expect(all.figures.eyes).toBe(8);
    expect(own.references.source).toBe('common practice, no source');
  });

  it('leaves eyes out that were not followed long enough, and says how many', async () => {
    const { figures } = await report(coordinator, '?minimumMonths=12');
    expect(figures.eyes).toBe(4);
    expect(figures.tooEarly).toBe(3);
    expect(figures.followUpDays?.min).toBeGreaterThanOrEqual(350);
    expect(figures.stability?.rows.map(({ code }) => code)).toEqual([
      'before',
      'day-1',
      'week-1',
      'month-1',
      'month-3',
      'month-6',
      'month-12',
    ]);
  });

  it('narrows by cylinder, and both halves make the whole', async () => {
    const [low, high] = [
      await report(coordinator, '?cylinder=below4'),
      await report(coordinator, '?cylinder=from4'),
    ];
    expect(low.figures.eyes + high.figures.eyes).toBe(6);
    const bars = high.figures.cylinder?.before ?? [];
    expect(bars.filter(({ to }) => to !== null && to <= 3).every(({ count }) => count === 0)).toBe(true);
    expect(bars.reduce((sum, { count }) => sum + count, 0)).toBe(high.figures.eyes);
    expect(high.figures.eyes).toBeGreaterThan(0);
  });

  it('refuses what it does not know, by name', async () => {
    for (const query of ['?cone=sideways', '?minimumMonths=-1', '?colour=red', '?clinicId=7'])
      expect((await coordinator.get(`/api/outcomes${query}`)).status).toBe(400);
  });

  it('compares two groups with the test named', async () => {
    const { choices } = await report(administrator);
    const [first, second] = ['Estuary Clinic', 'Harbour Row'].map(
      (name) => choices.clinic.find(({ label }) => label === name)?.value,
    );
    const { status, body } = await administrator.get<OutcomeComparison>(
      `/api/outcomes/comparison?by=clinic&first=${first}&second=${second}`,
    );
    expect(status).toBe(200);
    expect([body.first, body.second]).toEqual([
      { label: 'Estuary Clinic', eyes: 6, tooEarly: 1 },
      { label: 'Harbour Row', eyes: 2, tooEarly: 0 },
    ]);
    expect(body.rows.find(({ measure }) => measure === 'within-half')?.test).toBe("Fisher's exact test");
    for (const { p } of body.rows) expect(p).toBeGreaterThanOrEqual(0);
  });

  it('shows vault learning with each eye predicted from all others', async () => {
    const { body } = await administrator.get<VaultLearnings>('/api/outcomes/vault');
    const tarn = body.items.find(({ designCode }) => designCode === 'QL-TARN');
    expect(tarn?.n).toBeGreaterThanOrEqual(2);
    expect(tarn?.leaveOneOut?.points).toHaveLength(tarn?.n ?? 0);
    for (const { lowUm, predictedUm, highUm } of tarn?.leaveOneOut?.points ?? [])
      expect(lowUm < predictedUm && predictedUm < highUm).toBe(true);
    expect(tarn?.coefficients.find(({ of }) => of === 'lengthMm')?.startUm).toBeCloseTo(657.121, 6);
    const seen = (await elsewhere.get<VaultLearnings>('/api/outcomes/vault')).body.items.flatMap(
      ({ leaveOneOut }) => leaveOneOut?.points ?? [],
    );
    expect(seen.every(({ clinic }) => clinic === 'Harbour Row')).toBe(true);
  });

  it('offers offsets of refraction with doubt, and changes no plan', async () => {
    const { body } = await administrator.get<RefractionOffsets>('/api/outcomes/refraction');
    expect(body.n).toBe(8);
    expect(body.rows[0]).toMatchObject({ of: 'all', n: 8 });
    for (const { mean } of body.rows) expect(mean.lowD).toBeLessThan(mean.highD);
  });

  it('lists who is due for a visit, closed cases left out', async () => {
    const { body } = await coordinator.get<DueVisits>('/api/outcomes/visits');
    expect(body.items).toHaveLength(3);
    const due = body.items.find(({ missed }) => missed.length > 0);
    expect(due?.state).toMatch(/due|overdue|ahead/);
    expect(body.schedule.map(({ code }) => code).slice(0, 3)).toEqual(['day-1', 'week-1', 'month-1']);
    const overdue = await coordinator.get<DueVisits>('/api/outcomes/visits?state=overdue');
    expect(overdue.body.items.every(({ state, daysFromNow }) => state === 'overdue' && daysFromNow < 0)).toBe(
      true,
    );
  });

  it('scores makers without shaming small numbers', async () => {
    const { body } = await coordinator.get<MakerScorecards>('/api/outcomes/makers');
    const quillon = body.items.find(({ name }) => name === 'Quillon');
    const [reason] = quillon?.exchangeReasons ?? [];
    expect(quillon?.exchangeReasons).toHaveLength(1);
    expect([reason?.reason, reason?.share.count, reason?.share.n]).toEqual([
      'vault_high',
      1,
      quillon?.exchanged.share?.n,
    ]);
    expect(reason?.share.low).toBeLessThan(reason?.share.share ?? 0);
    expect(quillon?.exchanged.share?.count).toBe(1);
    expect(quillon?.labelMismatch.share?.count).toBe(0);
    const merrow = body.items.find(({ name }) => name === 'Merrow');
    expect(merrow).toMatchObject({
      sent: 0,
      leadTimes: null,
      promiseKept: { share: null, standing: 'too-few' },
    });
  });

  it('shows how long each maker’s lenses took, and what that says of the next one', async () => {
    const { body } = await coordinator.get<MakerScorecards>('/api/outcomes/makers');
    const quillon = body.items.find(({ name }) => name === 'Quillon')!;
    const { body: times } = await coordinator.get<MakerLeadTimes>(`/api/makers/${quillon.id}/lead-times`);
    expect(quillon.leadTimes?.curve).toEqual(times.all);
    const { points, quotedWorkingDays } = quillon.leadTimes!.forecast;
    expect(times.classes.map((one) => one.quotedWorkingDays)).toContain(quotedWorkingDays);
    expect(points[0]).toEqual({ day: 0, arrived: 0 });
    points.forEach(({ arrived }, i) => expect(arrived).toBeGreaterThanOrEqual(points[i - 1]?.arrived ?? 0));
    expect(points.at(-1)?.arrived).toBeGreaterThanOrEqual(0.95);
    const { rows } = await past(
      `select min(sent_at)::date::text as first from lens_order o join maker m on m.id = o.maker_id
       join clinic c on c.id = o.clinic_id where m.code = 'QUILLON' and c.code = 'EST'`,
    );
    expect(quillon.sentFrom).toBe((rows as { first: string }[])[0]?.first);
  });

  it('says what a maker still owes, in its own currency, and for how long', async () => {
    const { body } = await coordinator.get<MakerScorecards>('/api/outcomes/makers');
    const { rows } = await past(
      'select credit_expected::text as amount, opened_at::date::text as day from lens_return',
    );
    const [owed] = rows as { amount: string; day: string }[];
    expect(rows).toHaveLength(1);
    const days = Math.round(
      (Date.parse(clock.now().toISOString().slice(0, 10)) - Date.parse(owed!.day)) / 86_400_000,
    );
    expect(body.items.find(({ name }) => name === 'Quillon')?.creditsOutstanding).toEqual([
      { currency: 'CHF', amount: owed!.amount, n: 1, oldestDays: days },
    ]);
    for (const { name, creditsOutstanding } of body.items)
      if (name !== 'Quillon') expect(creditsOutstanding).toEqual([]);
  });

  it('exports nobody’s name, code or true date, hides small groups, and keeps it on record', async () => {
    const text = async (person: Person, path: string) => {
      const answer = await house.app.inject({ method: 'GET', url: path, headers: { cookie: person.cookie } });
      expect(String(answer.headers['content-type'])).toContain('text/csv');
      return answer.payload;
    };
    const table = await text(administrator, '/api/outcomes/eyes.csv');
    const lines = table.trim().split('\r\n');
    expect(lines).toHaveLength(10);
    const { rows: cases } = await past('select code, id from eye_case');
    for (const { code, id } of cases as { code: string; id: string }[]) {
      expect(table).not.toContain(code);
      expect(table).not.toContain(id);
    }
    expect(table).not.toContain('Harbour Row');
    expect(table).toContain('fewer than 5 eyes');
    expect(table).toContain('Estuary Clinic');
    const { rows: dates } = await past('select performed_on::text as day from implantation');
    const shown = lines.slice(1).map((line) => /\d{4}-\d{2}-\d{2}/.exec(line)?.[0]);
    const truly = new Set((dates as { day: string }[]).map(({ day }) => day));
    expect(shown.filter((day) => truly.has(day ?? '')).length).toBeLessThan(5);
    const names = (lines[0] ?? '').split(',');
    const dictionary = await text(administrator, '/api/outcomes/eyes-dictionary.csv');
    expect(
      dictionary
        .trim()
        .split('\r\n')
        .slice(1)
        .map((line) => line.split(',')[0]),
    ).toEqual(names);
    const { rows: kept } = await past("select facts from audit_entry where action = 'outcome.export'");
    expect(kept).toHaveLength(2);
  });

  it('exports with identity only for those who may see patients', async () => {
    const ask = (person: Person) =>
      house.app.inject({
        method: 'GET',
        url: '/api/outcomes/eyes.csv?identified=yes',
        headers: { cookie: person.cookie },
      });
    expect((await ask(administrator)).statusCode).toBe(403);
    const own = await ask(coordinator);
    expect(own.statusCode).toBe(200);
    const { rows } = await past(
      "select c.code from eye_case c join clinic k on k.id = c.clinic_id where k.code = 'EST'",
    );
    for (const { code } of rows as { code: string }[]) expect(own.payload).toContain(code);
  });

  it('lets an administrator set the visits, on record, from the days that were seen, and nobody else', async () => {
    const was = [1, 7, 30, 91, 182, 365];
    const body = { was, visitDays: [3, 45, 180], why: 'The network agreed on fewer visits.' };
    const path = '/api/outcomes/visit-schedule';
    const untilFirstVisit = async (): Promise<string> => {
      const { body: page } = await coordinator.get<{ items: CaseSummary[] }>('/api/cases?perPage=100');
      const waiting = page.items.map((item) => item.waiting).find((one) => one.for === 'first-visit');
      return waiting?.until ?? 'no case waits for its first visit';
    };
    const dayOne = await untilFirstVisit();
    expect((await coordinator.post(path, body)).status).toBe(403);
    expect((await administrator.post(path, { ...body, visitDays: [30, 30] })).status).toBe(400);
    const { status, body: visits } = await administrator.post<DueVisits>(path, body);
    expect(status).toBeLessThan(300);
    expect(visits.schedule.map(({ day }) => day)).toEqual([3, 45, 180]);
    // What a case's list says is waited for follows the same days: two days later than by the defaults.
    expect(await untilFirstVisit()).toBe(plusDays(dayOne, 2));
    expect((await administrator.post(path, body)).status).toBe(409);
    const { figures } = await report(coordinator, '?minimumMonths=12');
    expect(figures.stability?.rows.map(({ day }) => day).slice(1, 4)).toEqual([3, 45, 180]);
    const { rows } = await past(`select facts from audit_entry where action = 'visits.schedule'`);
    expect(rows).toHaveLength(3);
    expect(rows[0]).toEqual({ facts: { before: was, after: [3, 45, 180] } });
  });
});
