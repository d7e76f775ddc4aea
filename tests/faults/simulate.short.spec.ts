import { describe, expect, it } from 'vitest';
import { newKey } from '../../apps/api/dist/config.js';
import { Agenda } from '../../apps/api/dist/simulate/agenda.js';
import { allHolds, reportLines } from '../../apps/api/dist/simulate/report.js';
import { simulate } from '../../apps/api/dist/simulate/run.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { freshDatabase } from '../support/fresh-database.js';
import { asSuperuser } from '../support/superuser.js';

describe('a simulated stretch', () => {
  it('plays what is on its agenda in the order of time, and nothing beyond the end', async () => {
    const clock = new SetClock(new Date('2026-01-05T06:00:00Z'));
    const agenda = new Agenda(clock, new Date('2026-02-01T00:00:00Z'));
    const played: string[] = [];
    const note = (what: string) => async () =>
      void played.push(`${what} ${clock.now().toISOString().slice(0, 10)}`);
    agenda.on('2026-01-20', 9, note('third'));
    agenda.on('2026-02-02', 9, note('never'));
    agenda.on('2026-01-07', 9, async () => {
      await note('first')();
      agenda.on('2026-01-01', 9, note('second, asked for in the past'));
    });
    for (let i = 0; i < 50; i += 1) agenda.on('2026-01-21', 23 - (i % 24), note('many'));
    await agenda.play();
    expect(played.slice(0, 3)).toEqual([
      'first 2026-01-07',
      'second, asked for in the past 2026-01-07',
      'third 2026-01-20',
    ]);
    expect(played).toHaveLength(53);
  });

  it('keeps everything that must hold through the use cases, and finds it when something is broken', async () => {
    const db = await freshDatabase();
    const root = await asSuperuser(db);
    try {
      const outcome = await simulate({
        databaseUrl: db.databaseUrl,
        identityKey: newKey(),
        seed: 11,
        weeks: 24,
        openWeeks: 1,
      });
      const lines = reportLines(outcome);
      expect(lines.filter((line) => line.includes('BROKEN'))).toEqual([]);
      expect(allHolds(outcome)).toBe(true);
      expect(outcome.tally.of('lenses implanted')).toBeGreaterThan(2);
      expect(outcome.calibration?.of).toBeGreaterThan(2);
      expect(outcome.tally.waits.length).toBeGreaterThan(2);
      // The checks are worth something only if they see a lens that lost its eye.
      await root.rows(`update lens_unit set state = 'in_stock' where state = 'implanted'`);
      const { checkClinic } = await import('../../apps/api/dist/simulate/invariants.queries.js');
      const { Database } = await import('../../apps/api/dist/platform/database.js');
      const { SealedBox } = await import('../../apps/api/dist/platform/sealed-box.js');
      const clinicIds = (await root.rows('select id from clinic')).map(({ id }) => String(id));
      const clock = new SetClock(new Date());
      const database = new Database(db.databaseUrl, 2, clock, new SealedBox(newKey()));
      const actor = { kind: 'auditor' as const, personId: null, name: 'Test', clinicIds };
      const alerts = { atRisk: [], toReceive: [], sendFailed: [] } as never;
      const checks = await database.work(actor, (work) => checkClinic(work, alerts));
      await database.close();
      expect(checks.find(({ what }) => what.includes('lens accounted'))?.against.length).toBeGreaterThan(2);
    } finally {
      await root.close();
      await db.drop();
    }
  });
});
