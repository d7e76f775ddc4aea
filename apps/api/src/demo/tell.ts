import { v7 as uuid } from 'uuid';
import { closeCase, withdrawCase } from '../cases/end-case.js';
import { addMeasurement } from '../cases/measure.js';
import { openCase } from '../cases/open-case.js';
import { recordImplantation } from '../cases/record-implantation.js';
import { scheduleTheatre } from '../cases/schedule-theatre.js';
import { loadCase, lensInEye } from '../cases/cases.store.js';
import { openExchange } from '../exchanges/open-exchange.js';
import { cancelOrder, requestChanges } from '../orders/move-order.js';
import { loadOrder } from '../orders/orders.store.js';
import { plusDays } from '../platform/plain-date.js';
import { receiveLens } from '../receiving/receive-lens.js';
import { authoriseReturn, creditReturn, handOverReturn, receiveReturn } from '../returns/move-return.js';
import { startReturn } from '../returns/start-return.js';
import { rejectLens } from '../stock/decide-quarantine.js';
import { as, asMaker, type Cast } from './cast.js';
import { firstVisit, inventEye, refractionOf, type DemoEye } from './eyes.js';
import { makers, type DemoMaker } from './network.js';
import { promisesDays, takesDays } from './pace.js';
import { inventResult, resultAt, type DemoResult } from './results.js';
import {
  acknowledge,
  agreeToChange,
  decline,
  packOf,
  place,
  plan,
  promiseAnew,
  send,
  ship,
  sign,
  submit,
  type Scene,
} from './order-scene.js';
import { plants, type Ending, type Story } from './stories.js';
import { Timeline, type Moment } from './timeline.js';

/** Endings up to which nothing has been sent to a maker. */
const beforeSending: readonly Ending[] = [
  'measuring',
  'stabilising',
  'to-plan',
  'draft',
  'changes-requested',
  'to-sign',
  'amended-after-signing',
  'to-place',
  'queued',
  'cancelled',
  'withdrawn',
];
const unarrived: readonly Ending[] = [
  'send-failed',
  'disputed',
  'sent',
  'acknowledged',
  'late',
  'at-risk',
  'shipped',
  'declined',
];
const unimplanted: readonly Ending[] = [
  'quarantined-mismatch',
  'quarantined-damaged',
  'rejected',
  'lens-here',
  'expiring',
];
const exchanged: readonly Ending[] = [
  'exchange-on-order',
  'exchange-here',
  'return-requested',
  'return-closing',
  'return-overdue',
  'credit-missing',
  'exchanged',
];

/** Tells one story through the use cases: the moments of its case, for the demo's clock to play in order. */
export function tell(cast: Cast, story: Story, index: number, roll: () => number, now: Date): Moment[] {
  const demoMaker = makers.find(({ code }) => code === story.maker) as DemoMaker;
  const scene: Scene = {
    cast,
    clinic: cast.clinics.find(({ code }) => code === story.clinic) as Scene['clinic'],
    maker: cast.makers.find(({ code }) => code === story.maker) as Scene['maker'],
    demoMaker,
    caseId: '',
    orderId: '',
    unit: null,
  };
  const line = new Timeline(now);
  const eye = inventEye(roll);
  new Teller(scene, story, line, eye, roll).tell(index);
  return line.moments;
}

class Teller {
  constructor(
    private readonly scene: Scene,
    private readonly story: Story,
    private readonly line: Timeline,
    private readonly eye: DemoEye,
    private readonly roll: () => number,
  ) {}

  tell(index: number): void {
    const { ending, daysAgo } = this.story;
    const sent = -daysAgo;
    const early = beforeSending.includes(ending);
    this.opening(index, sent);
    if (early) return this.beforeSending(sent);
    this.plannedAndSigned(sent);
    if (unarrived.includes(ending)) return this.unarrived(sent);
    const arrived = this.arrival(sent, ending);
    if (unimplanted.includes(ending)) return this.unimplanted(arrived);
    const operated = Math.min(arrived + 12, -2);
    this.implant(operated);
    if (ending === 'visit-due') return;
    this.followUp(operated);
  }

  private get measured(): boolean {
    return this.story.ending !== 'measuring';
  }

  private opening(index: number, sent: number): void {
    const { scene, line, eye, roll, story } = this;
    const { cast, clinic } = scene;
    const stable =
      story.ending === 'stabilising' ? 60 + Math.round(roll() * 80) : 380 + Math.round(roll() * 700);
    line.add(sent - 42, 8, async () => {
      scene.caseId = await as(cast, clinic, 'coordinator', (work) =>
        openCase(work, {
          clinicId: clinic.id,
          codeName: `${plants[index % plants.length] ?? 'Bracken'} ${10 + index}`,
          birthYear: 1986 + Math.round(roll() * 15),
          identity: {
            name: `Demo patient ${index + 1}`,
            birthDate: '1992-05-14',
            recordNumber: `D-${1000 + index}`,
          },
          eye: index % 2 === 0 ? 'OD' : 'OS',
          surgeonId: clinic.staff.surgeon.personId ?? uuid(),
        }),
      );
    });
    const measure = (input: Parameters<typeof addMeasurement>[2]) =>
      as(cast, clinic, 'coordinator', (work) => addMeasurement(work, scene.caseId, input));
    line.add(sent - 42, 9, async (day) => {
      await measure({
        kind: 'procedure',
        takenOn: day,
        device: 'letter',
        values: { procedure: 'cross_linking', performedOn: plusDays(day, -stable) },
      });
      const visit = firstVisit(eye, day);
      for (const input of this.measured ? visit : visit.slice(0, 2)) await measure(input);
    });
    if (this.measured)
      line.add(
        sent - 24,
        10,
        async (day) => void (await measure(refractionOf(eye, day, roll() < 0.7 ? 1 : 4))),
      );
  }

  private beforeSending(sent: number): void {
    const { scene, line, story } = this;
    const { cast, clinic } = scene;
    const { ending } = story;
    if (['measuring', 'stabilising', 'to-plan'].includes(ending)) return;
    if (ending === 'withdrawn') {
      line.add(sent, 11, async () => {
        const { version } = await as(cast, clinic, 'coordinator', (work) => loadCase(work, scene.caseId));
        await as(cast, clinic, 'coordinator', (work) =>
          withdrawCase(work, scene.caseId, { version, why: 'The patient is content with scleral lenses.' }),
        );
      });
      return;
    }
    line.add(sent - 2, 9, () => plan(scene));
    if (ending === 'draft') return;
    line.add(sent - 1, 10, () => submit(scene));
    if (ending === 'to-sign') return;
    if (ending === 'changes-requested' || ending === 'cancelled') {
      line.add(sent, 11, async () => {
        const { version } = await as(cast, clinic, 'surgeon', (work) => loadOrder(work, scene.orderId));
        const step = { version, why: 'Repeat the refraction first: the axis moved by 12° between visits.' };
        await as(cast, clinic, 'surgeon', (work) =>
          ending === 'cancelled'
            ? cancelOrder(work, scene.orderId, step)
            : requestChanges(work, scene.orderId, step),
        );
      });
      return;
    }
    line.add(sent, 8, () => sign(scene));
    if (ending === 'amended-after-signing') {
      line.add(sent, 9, () => plan(scene, -1));
      line.add(sent, 10, () => submit(scene));
    }
    if (ending === 'queued') line.add(sent, 9, () => place(scene));
  }

  private plannedAndSigned(sent: number): void {
    const { scene, line, story } = this;
    const tooLarge = ['vault-high', 'exchange-to-plan', ...exchanged].includes(story.ending) ? 2 : 0;
    const tooSmall = story.ending === 'vault-low' ? -2 : 0;
    line.add(sent - 7, 9, () => plan(scene, tooLarge + tooSmall));
    line.add(sent - 6, 10, () => submit(scene));
    line.add(sent - 4, 11, () => sign(scene));
    line.add(sent, 8, () => place(scene));
    line.add(sent, 8.1, () =>
      send(
        scene,
        story.ending === 'send-failed'
          ? 'The maker answered 503: order desk closed for maintenance.'
          : undefined,
      ),
    );
  }

  private unarrived(sent: number): void {
    const { scene, line, story } = this;
    const { ending } = story;
    const quoted = this.quotedDays();
    const theatre = { late: 6, 'at-risk': 14, shipped: 12 }[ending as string] ?? sent + quoted + 21;
    if (ending !== 'declined') line.add(sent, 9, () => this.schedule(Math.max(3, theatre)));
    if (ending === 'send-failed' || ending === 'sent') return;
    if (ending === 'declined') {
      line.add(sent + 2, 9, () =>
        decline(scene, 'This cylinder is outside what our lathe can hold this month.'),
      );
      return;
    }
    const promises = promisesDays(scene.demoMaker.pace, quoted);
    const promised = { late: -5, 'at-risk': 12, shipped: 2 }[ending as string] ?? sent + promises;
    line.add(sent + 1, 9, () =>
      acknowledge(scene, line.day(Math.max(promised, sent + 2)), ending === 'disputed'),
    );
    if (ending === 'shipped') line.add(-1, 15, (day) => ship(scene, day));
  }

  /** Quoted working days as calendar days. */
  private quotedDays(): number {
    const [design] = this.scene.demoMaker.designs;
    const { made, high } = design?.sheet.quotedWorkingDays ?? { made: 20, high: 30 };
    return Math.round(
      ((-this.eye.cylinderD >= (design?.sheet.highCylinderFromD ?? 5) ? high : made) * 7) / 5,
    );
  }

  /** Days from sending to arrival by the maker's own pace. */
  private lead(): number {
    return Math.max(4, takesDays(this.scene.demoMaker.pace, this.quotedDays(), this.roll));
  }

  /** The maker answers with its promise, and says so when it sees that the lens will be later. */
  private promise(sent: number, arrived: number): void {
    const { scene, line } = this;
    const promised = sent + promisesDays(scene.demoMaker.pace, this.quotedDays());
    line.add(sent + 1, 9, () => acknowledge(scene, line.day(promised)));
    const told = promised - 4;
    if (arrived > promised && told > sent + 1)
      line.add(told, 9, () => promiseAnew(scene, line.day(arrived + 2)));
  }

  private arrival(sent: number, ending: Ending): number {
    const { scene, line } = this;
    const { cast, clinic } = scene;
    const arrived = Math.min(sent + this.lead(), -4);
    line.add(sent, 9, () =>
      this.schedule(Math.max(arrived + 12, ['lens-here', 'expiring'].includes(ending) ? 4 : sent + 40)),
    );
    this.promise(sent, arrived);
    line.add(arrived - 3, 15, (day) => ship(scene, day, ending === 'expiring' ? 40 : 1000));
    line.add(arrived, 10, async () => {
      const label = await packOf(scene);
      const quarantine: Record<string, string> = {
        'quarantined-mismatch': 'The label says another axis than the order.',
        'quarantined-damaged': 'The outer pack is crushed and the seal is broken.',
        rejected: 'The label says the other eye.',
      };
      const why = quarantine[ending];
      const reason =
        why ?? (ending === 'expiring' ? 'The surgeon wants it in spite of its expiry.' : undefined);
      const wrong =
        ending === 'quarantined-mismatch'
          ? { ...label, text: '', axisDeg: ((label.axisDeg ?? 1) % 180) + 1 }
          : ending === 'rejected'
            ? { ...label, text: '', eye: label.eye === 'OD' ? ('OS' as const) : ('OD' as const) }
            : label;
      await as(cast, clinic, 'inventory', (work) =>
        receiveLens(work, scene.orderId, {
          label: wrong,
          outcome: why === undefined ? 'accept' : 'quarantine',
          location: why === undefined ? `shelf ${1 + (arrived & 3)}` : 'quarantine tray',
          ...(reason === undefined ? {} : { why: reason }),
        }),
      );
    });
    return arrived;
  }

  private unimplanted(arrived: number): void {
    if (this.story.ending !== 'rejected') return;
    const { scene, line } = this;
    const { cast, clinic } = scene;
    line.add(arrived + 1, 9, async () => {
      const lens = await as(cast, clinic, 'inventory', (work) =>
        work.tx.lensUnit.findFirstOrThrow({ where: { orderId: scene.orderId } }),
      );
      await as(cast, clinic, 'inventory', (work) =>
        rejectLens(work, lens.id, {
          version: lens.version,
          why: 'The maker confirmed that the packs were swapped.',
        }),
      );
    });
  }

  private async schedule(inDays: number): Promise<void> {
    const { cast, clinic, caseId } = this.scene;
    const row = await as(cast, clinic, 'coordinator', (work) => loadCase(work, caseId));
    const theatreOn = this.line.day(Math.max(inDays, 0));
    if (theatreOn < cast.clock.now().toISOString().slice(0, 10)) return;
    await as(cast, clinic, 'coordinator', (work) =>
      scheduleTheatre(work, caseId, { version: row.version, theatreOn }),
    );
    await agreeToChange(this.scene);
  }

  private implant(offset: number): void {
    const { scene, line } = this;
    const { cast, clinic } = scene;
    line.add(offset, 13, async (day) => {
      const row = await as(cast, clinic, 'surgeon', (work) => loadCase(work, scene.caseId));
      const lens = await as(cast, clinic, 'surgeon', (work) =>
        work.tx.lensUnit.findFirstOrThrow({ where: { caseId: scene.caseId, state: 'reserved' } }),
      );
      const { axisDeg } = lens.lens as { axisDeg: number | null };
      await as(cast, clinic, 'surgeon', (work) =>
        recordImplantation(work, scene.caseId, {
          version: row.version,
          lensId: lens.id,
          serial: lens.serial,
          performedOn: day,
          axisDeg: axisDeg ?? 180,
        }),
      );
    });
  }

  /** A visit: vault in bright light, the refraction that is left, the axis seen. No vault given: about as planned. */
  private visit(
    operated: number,
    daysAfter: number,
    result: DemoResult,
    { vaultUm, turnedDeg = 0 }: { vaultUm?: number; turnedDeg?: number } = {},
  ): void {
    const { scene, line, roll, eye } = this;
    const { cast, clinic } = scene;
    const { cylinderD, axisDeg: leftAxisDeg, ...seen } = resultAt(result, eye, daysAfter, roll);
    const left = { ...seen, cylinderD, ...(cylinderD === 0 ? {} : { axisDeg: leftAxisDeg }) };
    line.add(Math.min(operated + daysAfter, -1), 11, async (day) => {
      const row = await as(cast, clinic, 'coordinator', (work) => loadCase(work, scene.caseId));
      const inEye = lensInEye(row)?.lens;
      const { axisDeg } = (inEye?.lens ?? { axisDeg: 90 }) as { axisDeg: number | null };
      const add = (input: Parameters<typeof addMeasurement>[2]) =>
        as(cast, clinic, 'coordinator', (work) => addMeasurement(work, scene.caseId, input));
      const vault = vaultUm ?? (await this.vaultAsPlanned(inEye?.orderId, result));
      await add({
        kind: 'vault',
        takenOn: day,
        device: 'anterior-segment OCT',
        values: { vaultUm: Math.round((vault + (daysAfter < 7 ? 40 : 0)) / 10) * 10, lighting: 'bright' },
      });
      await add({
        kind: 'refraction',
        takenOn: day,
        device: 'subjective, phoropter',
        values: {
          ...(turnedDeg === 0 ? left : { ...left, sphereD: 1, cylinderD: -2, axisDeg: 172 }),
          vertexMm: 12,
        },
      });
      await add({
        kind: 'lens_axis',
        takenOn: day,
        device: 'slit lamp',
        values: { axisDeg: ((axisDeg ?? 180) + turnedDeg) % 181 },
      });
    });
  }

  /** The vault that the plan expected, give or take 150 µm, within the band: these stories are of eyes that do well. */
  private async vaultAsPlanned(orderId: string | undefined, { vaultLuck }: DemoResult): Promise<number> {
    const { cast, clinic } = this.scene;
    const plan = await as(cast, clinic, 'coordinator', async (work) => {
      const order = await work.tx.lensOrder.findFirst({ where: { id: orderId ?? '' } });
      return work.tx.plan.findFirst({ where: { id: order?.planId ?? '' } });
    });
    const size = (plan?.result as { chosenSize?: { vaultUm: { p50: number } } | null } | undefined)
      ?.chosenSize;
    return Math.min(730, Math.max(270, (size?.vaultUm.p50 ?? 480) + 150 * vaultLuck));
  }

  private followUp(operated: number): void {
    const { story, roll, line, scene } = this;
    const { cast, clinic } = scene;
    const { ending } = story;
    const poor: Partial<Record<Ending, number>> = { 'vault-low': 130 };
    const high = ['vault-high', 'exchange-to-plan', ...exchanged].includes(ending);
    const vaultUm = high ? 900 + roll() * 260 : poor[ending];
    const result = inventResult(this.eye, roll);
    const seen = {
      ...(vaultUm === undefined ? {} : { vaultUm }),
      turnedDeg: ending === 'rotated' ? 15 : 0,
    };
    const leaves = ending === 'exchange-to-plan' || exchanged.includes(ending);
    for (const daysAfter of leaves ? [2, 30] : [2, 8, 30, 92, 183, 360])
      if (daysAfter === 2 || operated + daysAfter < -3) this.visit(operated, daysAfter, result, seen);
    if (ending === 'closed')
      line.add(Math.min(operated + 370, -3), 12, async () => {
        const { version } = await as(cast, clinic, 'surgeon', (work) => loadCase(work, scene.caseId));
        await as(cast, clinic, 'surgeon', (work) =>
          closeCase(work, scene.caseId, { version, why: 'One year of follow-up, stable.' }),
        );
      });
    if (ending === 'exchange-to-plan' || exchanged.includes(ending)) this.exchange(operated + 34);
  }

  private exchange(offset: number): void {
    const { scene, line, story } = this;
    const { cast, clinic } = scene;
    line.add(offset, 12, async () => {
      const { version } = await as(cast, clinic, 'surgeon', (work) => loadCase(work, scene.caseId));
      await as(cast, clinic, 'surgeon', (work) =>
        openExchange(work, scene.caseId, {
          version,
          reason: 'vault_high',
          note: 'Vault far above the band, the angle has narrowed.',
        }),
      );
    });
    if (story.ending === 'exchange-to-plan') return;
    line.add(offset + 1, 9, () => plan(scene));
    line.add(offset + 1, 10, () => submit(scene));
    line.add(offset + 1, 11, () => sign(scene));
    const sent = story.ending === 'exchange-on-order' ? Math.max(offset + 2, -9) : offset + 2;
    line.add(sent, 8, () => place(scene));
    line.add(sent, 8.1, () => send(scene));
    line.add(sent, 9, () =>
      this.schedule(
        story.ending === 'exchange-on-order' ? 24 : story.ending === 'exchange-here' ? 5 : sent + 50,
      ),
    );
    if (story.ending === 'exchange-on-order') {
      const promised = sent + promisesDays(scene.demoMaker.pace, this.quotedDays());
      line.add(sent + 1, 9, () => acknowledge(scene, line.day(promised)));
      return;
    }
    const arrived = this.secondArrival(sent);
    if (story.ending === 'exchange-here') return;
    const operated = Math.min(arrived + 7, -6);
    this.implant(operated);
    const result = inventResult(this.eye, this.roll);
    for (const daysAfter of [2, 30, 92, 183])
      if (daysAfter === 2 || operated + daysAfter < -1) this.visit(operated, daysAfter, result);
    this.sendBack(operated);
  }

  private secondArrival(sent: number): number {
    const { scene, line } = this;
    const { cast, clinic } = scene;
    const arrived = Math.min(sent + this.lead(), -14);
    this.promise(sent, arrived);
    line.add(arrived - 3, 15, (day) => ship(scene, day));
    line.add(arrived, 10, async () => {
      const label = await packOf(scene);
      await as(cast, clinic, 'inventory', (work) =>
        receiveLens(work, scene.orderId, { label, outcome: 'accept', location: 'shelf 1' }),
      );
    });
    return arrived;
  }

  /** The first lens goes back; the story's ending says how far that has come. */
  private sendBack(operated: number): void {
    const { scene, line, story } = this;
    const { cast, clinic } = scene;
    const { ending } = story;
    let returnId = '';
    const version = async (): Promise<number> =>
      (
        await as(cast, clinic, 'inventory', (work) =>
          work.tx.lensReturn.findFirstOrThrow({ where: { id: returnId } }),
        )
      ).version;
    line.add(ending === 'return-requested' ? -2 : operated + 3, 9, async () => {
      const lens = await as(cast, clinic, 'inventory', (work) =>
        work.tx.lensUnit.findFirstOrThrow({ where: { caseId: scene.caseId, state: 'explanted' } }),
      );
      returnId = await as(cast, clinic, 'inventory', (work) =>
        startReturn(work, lens.id, { version: lens.version, reason: 'vault_high' }),
      );
      await as(cast, clinic, 'inventory', async (work) => {
        await work.tx.outboxEvent.updateMany({
          where: { topic: 'return.send', doneAt: null },
          data: { doneAt: work.now, publishedAt: work.now },
        });
      });
    });
    if (ending === 'return-requested') return;
    line.add(operated + 6, 9, async () => {
      const seen = await version();
      await as(cast, clinic, 'inventory', (work) =>
        authoriseReturn(work, returnId, {
          version: seen,
          authorisation: `A-${returnId.slice(-6).toUpperCase()}`,
        }),
      );
    });
    if (ending === 'return-closing' || ending === 'return-overdue') return;
    line.add(operated + 9, 15, async () => {
      const seen = await version();
      await as(cast, clinic, 'inventory', (work) =>
        handOverReturn(work, returnId, { version: seen, tracking: `BACK ${returnId.slice(-5)}` }),
      );
    });
    line.add(operated + 14, 9, async () => {
      const seen = await version();
      await asMaker(cast, clinic, scene.maker, (work) => receiveReturn(work, returnId, { version: seen }));
    });
    if (ending === 'credit-missing') return;
    line.add(operated + 30, 9, async () => {
      const row = await as(cast, clinic, 'inventory', (work) =>
        work.tx.lensReturn.findFirstOrThrow({ where: { id: returnId } }),
      );
      await asMaker(cast, clinic, scene.maker, (work) =>
        creditReturn(work, returnId, {
          version: row.version,
          amount: row.creditExpected.toFixed(2),
          currency: row.currency,
        }),
      );
    });
  }
}
