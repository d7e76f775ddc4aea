import { appendFile, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { compareLabel, readLabel } from '@lensferry/domain';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Inbox, maker, notice, order, post } from '../support/lensferry-stand-in.js';
import type { MakerSettings, Settings } from './settings.js';
import { startSimulator } from './start.js';
import type { RunningSimulator } from './start.js';

let folder: string;
let inbox: Inbox;
let running: RunningSimulator[] = [];
const log: string[] = [];

async function start(change: Partial<MakerSettings> = {}, secondsPerDay = 0.002): Promise<RunningSimulator> {
  const settings: Settings = {
    port: 0,
    host: '127.0.0.1',
    dataDir: folder,
    secondsPerDay,
    lensferryUrl: inbox.url,
    makers: [{ ...maker, ...change }],
  };
  const simulator = await startSimulator(settings, (line) => log.push(line));
  running.push(simulator);
  return simulator;
}

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'maker-simulator-'));
  inbox = await Inbox.open();
  log.length = 0;
});
afterEach(async () => {
  for (const simulator of running) await simulator.stop();
  running = [];
  await inbox.close();
  await rm(folder, { recursive: true });
});

describe('an order at the maker', () => {
  it('is acknowledged with its echo, made and shipped with a label that matches the order', async () => {
    const { url } = await start();
    const receipt = await post(url, order(1), 'k1');
    expect(receipt.status).toBe(202);
    expect(await receipt.json()).toMatchObject({ received: true, reference: expect.any(String) });
    await inbox.until(() => inbox.ids('order.shipped').size === 1);
    expect(inbox.first('order.acknowledged').echo).toEqual({ eye: 'RIGHT', lens: order(1).lens });
    expect(inbox.first('order.acknowledged').promisedOn).toMatch(/^\d{4}-\d\d-\d\d$/);
    const { unit } = inbox.first('order.shipped');
    const reading = readLabel(unit.labelText, { today: '2026-11-25', accept: ['gs1'] });
    const { designCode: _d, designVersion: _v, ...lens } = order(1).lens;
    const { labelText: _l, ...announced } = unit;
    const compared = compareLabel({ ...lens, ...announced, eye: 'RIGHT', caseCode: 'EST-0042R' }, reading);
    expect(compared).toHaveLength(10);
    expect(compared.filter(({ verdict }) => verdict !== 'match')).toEqual([]);
  });

  it.each(['hibc', 'serial'] as const)('carries a %s label from such a maker', async (labelScheme) => {
    const { url } = await start({ labelScheme, gtinPrefix: null });
    await post(url, order(1), 'k1');
    await inbox.until(() => inbox.ids('order.shipped').size === 1);
    const { unit } = inbox.first('order.shipped');
    expect(unit.gtin).toBeNull();
    expect(readLabel(unit.labelText, { today: '2026-11-25' })).toMatchObject({
      scheme: labelScheme,
      serial: unit.serial,
    });
  });

  it('is declined with a reason where the maker declines', async () => {
    const { url } = await start({ declineShare: 1 });
    await post(url, order(1), 'k1');
    await inbox.until(() => inbox.arrived.length === 1);
    expect(inbox.first('order.declined').reason).toMatch(/[.]$/);
  });

  it('meets the same fate for the same number', async () => {
    const { planOrder } = await import('./plan-messages.js');
    const at = new Date('2026-11-25T08:00:00Z');
    const plan = (n: number) => planOrder(maker, order(n) as never, at, 2);
    expect(plan(7)).toEqual(plan(7));
    const days = new Set(Array.from({ length: 40 }, (_, n) => plan(n).at(-1)?.dueAt));
    expect(days.size).toBeGreaterThan(10);
  });
});

describe('a return at the maker', () => {
  it('is authorised, received and credited in this order', async () => {
    const { url } = await start();
    await post(url, order(1), 'k1');
    await inbox.until(() => inbox.ids('order.shipped').size === 1);
    expect(
      (await post(url, notice(1, inbox.first('order.shipped').unit.serial), 'r1', 'returns')).status,
    ).toBe(202);
    await inbox.until(() => inbox.ids('return.credited').size === 1);
    const types = inbox.arrived
      .map(({ message }) => message.type)
      .filter((type) => type.startsWith('return'));
    expect(types).toEqual(['return.authorised', 'return.received', 'return.credited']);
    expect(inbox.first('return.credited')).toMatchObject({ amount: '800.00', currency: 'EUR' });
  });

  it('brings nothing after the return window', async () => {
    const { planReturn } = await import('./plan-messages.js');
    const shipped = new Date('2026-10-01T08:00:00Z');
    const plan = planReturn(maker, notice(1, 'X1234') as never, new Date('2026-11-25T08:00:00Z'), 2, shipped);
    expect(plan.at(-1)?.message).toMatchObject({ type: 'return.credited', amount: '0.00' });
  });
});

describe('receiving exactly once', () => {
  it('gives a repetition the same answer and makes one lens', async () => {
    const { url } = await start();
    const answers = [
      await post(url, order(1), 'k1'),
      await post(url, order(1), 'k1'),
      await post(url, order(1), 'k2'),
    ];
    const [first, ...others] = await Promise.all(answers.map((answer) => answer.json()));
    for (const other of others) expect(other).toEqual(first);
    const listed = (await (await fetch(`${url}/makers/TERN/orders`)).json()) as {
      count: number;
      orders: { idempotencyKey: string }[];
    };
    expect(listed.count).toBe(1);
    expect(listed.orders[0]?.idempotencyKey).toBe('k1');
  });

  it('lets one of many simultaneous repetitions through and answers the rest 202 or 409', async () => {
    const { url } = await start();
    const statuses = (await Promise.all(Array.from({ length: 30 }, () => post(url, order(1), 'k1')))).map(
      ({ status }) => status,
    );
    expect(new Set(statuses.filter((status) => status !== 409))).toEqual(new Set([202]));
    expect(((await (await fetch(`${url}/makers/TERN/orders`)).json()) as { count: number }).count).toBe(1);
  });

  it.each([
    ['no key', 400, async (url: string) => post(url, order(1), null)],
    [
      'another body under a used key',
      422,
      async (url: string) => (await post(url, order(1), 'k1'), post(url, order(2), 'k1')),
    ],
    [
      'a number with other content',
      409,
      async (url: string) => (await post(url, order(1), 'k1'), post(url, order(1, { urgent: true }), 'k2')),
    ],
    [
      'a foreign signature',
      401,
      async (url: string) =>
        post(
          url,
          order(1),
          'k1',
          'orders',
          `whsec_${Buffer.from('another secret of some length').toString('base64')}`,
        ),
    ],
    ['a patient name', 400, async (url: string) => post(url, order(1, { patient: 'x' }), 'k1')],
    ['broken JSON', 400, async (url: string) => post(url, '{"document":', 'k1')],
    ['2 MB', 413, async (url: string) => post(url, `"${'x'.repeat(2_000_000)}"`, 'k1')],
    [
      'an unknown maker',
      404,
      async (url: string) => fetch(`${url}/makers/NOBODY/orders`, { method: 'POST', body: '{}' }),
    ],
    ['an unknown address', 404, async (url: string) => fetch(`${url}//`)],
    ['the wrong verb', 405, async (url: string) => fetch(`${url}/makers/TERN/orders`, { method: 'DELETE' })],
    [
      'a form',
      415,
      async (url: string) =>
        fetch(`${url}/makers/TERN/orders`, { method: 'POST', body: new URLSearchParams({ a: '1' }) }),
    ],
  ])('refuses %s with %i and a problem', async (_, status, act) => {
    const { url } = await start({}, 1000);
    const answer = await act(url);
    expect(answer.status).toBe(status);
    expect(answer.headers.get('content-type')).toBe('application/problem+json');
    expect(await answer.json()).toMatchObject({
      status,
      title: expect.any(String),
      detail: expect.any(String),
    });
  });

  it('names the faulty fields', async () => {
    const { url } = await start();
    const bad = order(1, { lens: { ...order(1).lens, axisDeg: 181 } });
    const problem = (await (await post(url, bad, 'k1')).json()) as { errors: { pointer: string }[] };
    expect(problem.errors.map(({ pointer }) => pointer)).toContain('/lens/axisDeg');
  });
});

describe('faults that a test orders', () => {
  const ordered = (url: string, body: object) =>
    fetch(`${url}/makers/TERN/faults`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });

  it('fail the next receipts and no more', async () => {
    const { url } = await start({}, 1000);
    expect((await ordered(url, { failNext: 2, status: 500 })).status).toBe(200);
    const statuses = [];
    for (let i = 0; i < 3; i += 1) statuses.push((await post(url, order(1), 'k1')).status);
    expect(statuses).toEqual([500, 500, 202]);
  });

  it('can lose the answer after the order was taken', async () => {
    const { url } = await start({}, 1000);
    await ordered(url, { failNext: 1, status: 502, afterReceiving: true });
    expect((await post(url, order(1), 'k1')).status).toBe(502);
    expect((await post(url, order(1), 'k1')).status).toBe(202);
    expect(((await (await fetch(`${url}/makers/TERN/orders`)).json()) as { count: number }).count).toBe(1);
  });

  it('can echo a wrong axis and print a wrong power', async () => {
    const { url } = await start();
    await ordered(url, { wrongEchoNext: 1, wrongLabelNext: 1 });
    await post(url, order(1), 'k1');
    await inbox.until(() => inbox.ids('order.shipped').size === 1);
    expect(inbox.first('order.acknowledged').echo.lens.axisDeg).toBe(33);
    const reading = readLabel(inbox.first('order.shipped').unit.labelText, { today: '2026-11-25' });
    expect(compareLabel({ sphereD: -9.25 }, reading)[0]?.verdict).toBe('mismatch');
  });

  it('are refused when they are faulty themselves', async () => {
    const { url } = await start();
    expect((await ordered(url, { failNext: -1 })).status).toBe(400);
    expect((await ordered(url, { explode: true })).status).toBe(400);
  });
});

describe('carrying messages', () => {
  it('repeats the same message until Lensferry takes it', async () => {
    const { url } = await start();
    inbox.answerNext(503, 500, 429);
    await post(url, order(1), 'k1');
    await inbox.until(() => inbox.ids('order.shipped').size === 1);
    const acknowledged = inbox.arrived.filter(({ message }) => message.type === 'order.acknowledged');
    expect(acknowledged).toHaveLength(4);
    expect(new Set(acknowledged.map((one) => JSON.stringify(one))).size).toBe(1);
  });

  it('takes 409 for delivered, and sets aside what is refused for good', async () => {
    const { url } = await start();
    inbox.answerNext(409, 400);
    await post(url, order(1), 'k1');
    await inbox.until(() => inbox.ids('order.shipped').size === 1 && inbox.arrived.length >= 2);
    expect(inbox.ids('order.acknowledged').size).toBe(1);
    expect(inbox.arrived.filter(({ message }) => message.type === 'order.acknowledged')).toHaveLength(1);
    await running.pop()?.stop();
    expect(log.join()).toContain('refused message');
  });
});

describe('the journal', () => {
  it('survives a torn last line', async () => {
    const first = await start({}, 1000);
    await post(first.url, order(1), 'k1');
    await running.pop()?.stop();
    await appendFile(join(folder, 'journal.jsonl'), '{"entry":"receipt","receipt":{"maker":"TE');
    const second = await start({}, 1000);
    expect((await post(second.url, order(2), 'k2')).status).toBe(202);
    await running.pop()?.stop();
    const lines = (await readFile(join(folder, 'journal.jsonl'), 'utf8')).trimEnd().split('\n');
    expect(lines.map((line) => (JSON.parse(line) as { entry: string }).entry)).toEqual([
      'receipt',
      'receipt',
    ]);
  });

  it('says which line is no record', async () => {
    await appendFile(join(folder, 'journal.jsonl'), 'oops\n');
    await expect(start()).rejects.toThrow(/Line 1 of .* is no record/);
  });
});
