import { trace, type Span } from '@opentelemetry/api';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { logger } from '../../apps/api/dist/platform/logger.js';
import { openHouse, type House } from '../support/house.js';
import { sceneAt } from '../support/scenes.js';

const token = 'a-token-of-this-test-only';
const patient = 'Zebulon Quastermann';

describe('metrics', () => {
  let house: House;
  beforeAll(async () => {
    house = await openHouse({ environment: { METRICS_TOKEN: token } });
    await sceneAt(house, 'queued', { patient });
    await sceneAt(house, 'accepted', { clinic: 'NOR' });
  });
  afterAll(() => house?.close());
  const read = (authorization?: string) =>
    house.app.inject({ url: '/metrics', headers: authorization === undefined ? {} : { authorization } });

  it('counts the whole network for whoever has the token', async () => {
    await house.app.inject({ url: '/api/orders' });
    const { statusCode, payload, headers } = await read(`Bearer ${token}`);
    expect(statusCode).toBe(200);
    expect(String(headers['content-type'])).toContain('text/plain');
    expect(payload).toContain('lensferry_orders{state="queued"} 1');
    expect(payload).toContain('lensferry_orders{state="accepted"} 1');
    expect(payload).toContain('lensferry_lenses{state="reserved"} 1');
    expect(payload).toContain('lensferry_outbox_events{topic="order.send"} 1');
    expect(payload).toMatch(/lensferry_queue_jobs\{state="waiting"\} \d+/);
    expect(payload).toMatch(/lensferry_send_seconds\{quantile="0.5"\} [\d.]+/);
    expect(payload).toContain('lensferry_forecast_interval_arrivals 1');
    expect(payload).toContain(
      'lensferry_http_request_seconds_count{route="/api/orders",method="GET",status="401"} 1',
    );
  });

  it('names nobody and no identifier', async () => {
    const { payload } = await read(`Bearer ${token}`);
    for (const word of patient.split(' ')) expect(payload).not.toContain(word);
    expect(payload).not.toMatch(/[0-9a-f]{8}-[0-9a-f]{4}/);
    expect(payload).not.toMatch(/LE-\d/);
  });

  it('counts failed sign-ins', async () => {
    const before = numberIn((await read(`Bearer ${token}`)).payload);
    await house.app.inject({
      method: 'POST',
      url: '/api/session',
      headers: { 'x-lensferry': '1' },
      payload: { email: 'una@lensferry.example', password: 'not the password' },
    });
    expect(numberIn((await read(`Bearer ${token}`)).payload)).toBe(before + 1);
  });
  it('leaves a line in the log for whoever is not let in, without a name or a value of theirs', async () => {
    const lines = vi.spyOn(logger, 'info');
    try {
      await house.app.inject({ url: '/api/orders/0199c0de-0000-7000-8000-000000000000?q=Quastermann' });
      const [facts, said] = lines.mock.calls.at(-1) as unknown as [Record<string, unknown>, string];
      expect(said).toBe('refused');
      expect(facts).toMatchObject({
        route: '/api/orders/:id',
        status: 401,
        code: 'session.needed',
        personId: null,
      });
      expect(JSON.stringify(facts)).not.toMatch(/Quastermann|0199c0de/);
    } finally {
      lines.mockRestore();
    }
  });
  const numberIn = (text: string): number =>
    Number(/lensferry_sign_in_failures_last_hour (\d+)/.exec(text)?.[1]);

  it('are refused without the token, and are not there without the setting', async () => {
    for (const authorization of [undefined, 'Bearer wrong', token])
      expect((await read(authorization)).statusCode).toBe(401);
    const other = await openHouse();
    try {
      const { statusCode } = await other.app.inject({
        url: '/metrics',
        headers: { authorization: `Bearer ${token}` },
      });
      expect(statusCode).toBe(404);
    } finally {
      await other.close();
    }
  });
});

describe('answers', () => {
  it('are kept in no cache', async () => {
    const house = await openHouse();
    try {
      const una = await house.signIn('una');
      for (const url of ['/api/session', '/api/orders', '/api/openapi.json', '/api/nothing'])
        expect(
          (await house.app.inject({ url, headers: { cookie: una.cookie } })).headers['cache-control'],
          url,
        ).toBe('no-store');
    } finally {
      await house.close();
    }
  });
});

describe('spans', () => {
  it('tell an OpenTelemetry SDK what was done, and no name', async () => {
    const spans: { name: string; attributes: unknown; ended: boolean; status?: unknown }[] = [];
    trace.setGlobalTracerProvider({
      getTracer: () =>
        ({
          startActiveSpan: (
            name: string,
            { attributes }: { attributes: unknown },
            run: (span: Span) => unknown,
          ) => {
            const seen = { name, attributes, ended: false, status: undefined as unknown };
            spans.push(seen);
            return run({
              end: () => (seen.ended = true),
              setStatus: (status: unknown) => (seen.status = status),
            } as unknown as Span);
          },
        }) as never,
    });
    const house = await openHouse();
    try {
      const una = await house.signIn('una');
      await sceneAt(house, 'draft', { patient });
      expect((await una.get('/api/cases/00000000-0000-4000-8000-000000000000')).status).toBe(404);
    } finally {
      trace.disable();
      await house.close();
    }
    expect(spans.length).toBeGreaterThan(3);
    expect(spans.every(({ ended }) => ended)).toBe(true);
    expect(spans.map(({ status }) => status)).toContainEqual({ code: 2, message: 'case.missing' });
    for (const word of patient.split(' ')) expect(JSON.stringify(spans)).not.toContain(word);
  });
});
