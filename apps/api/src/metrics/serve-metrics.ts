import { timingSafeEqual, createHash } from 'node:crypto';
import type { Queue } from 'bullmq';
import type { FastifyInstance } from 'fastify';
import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import type { Settings } from '../config.js';
import type { Database } from '../platform/database.js';
import { openQueue } from '../platform/queue.js';
import { networkCalibration } from './network-calibration.queries.js';
import { networkNumbers } from './network-numbers.queries.js';

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/**
 * `GET /metrics` in Prometheus' text format, for whoever has METRICS_TOKEN; without that setting there is no such
 * address. Numbers of the whole network, and none of a person. Each process answers for itself; what is read from the
 * database is the same in all of them.
 */
export function serveMetrics(fastify: FastifyInstance, settings: Settings, database: Database): void {
  const token = settings.METRICS_TOKEN;
  if (token === undefined) return;
  const wanted = digest(`Bearer ${token}`);
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  timeRequests(fastify, registry);
  const refresh = networkGauges(registry);
  let queue: Queue | undefined;
  fastify.addHook('onClose', async () => queue?.close());
  fastify.get('/metrics', async (request, reply) => {
    if (!timingSafeEqual(digest(request.headers.authorization ?? ''), wanted)) {
      await reply.code(401).header('www-authenticate', 'Bearer').send('Say who you are by METRICS_TOKEN.\n');
      return;
    }
    queue ??= openQueue(settings);
    await refresh(database, queue);
    await reply.header('content-type', registry.contentType).send(await registry.metrics());
  });
}

/** How long each route takes; by its pattern, because an address holds identifiers. */
function timeRequests(fastify: FastifyInstance, registry: Registry): void {
  const seconds = new Histogram({
    name: 'lensferry_http_request_seconds',
    help: 'Time to answer, by route, method and status.',
    labelNames: ['route', 'method', 'status'],
    buckets: [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10],
    registers: [registry],
  });
  fastify.addHook('onResponse', async (request, reply) => {
    seconds.observe(
      {
        route: request.routeOptions.url ?? 'none',
        method: request.method,
        status: String(reply.statusCode),
      },
      reply.elapsedTime / 1000,
    );
  });
}

function networkGauges(registry: Registry) {
  const gauge = (name: string, help: string, labelNames: string[] = []): Gauge =>
    new Gauge({ name: `lensferry_${name}`, help, labelNames, registers: [registry] });
  const orders = gauge('orders', 'Orders by state.', ['state']);
  const lenses = gauge('lenses', 'Lens units by state.', ['state']);
  const waiting = gauge('outbox_events', 'What waits to leave the house, by topic.', ['topic']);
  const oldest = gauge('outbox_oldest_seconds', 'How long the oldest of it has waited.', ['topic']);
  const jobs = gauge('queue_jobs', 'Jobs of the dispatch queue by state.', ['state']);
  const send = gauge('send_seconds', "From placing an order until its maker had it, of the last day's.", [
    'quantile',
  ]);
  const share = gauge(
    'forecast_interval_share',
    "Of the latest arrivals, the share in its forecast's 90 % interval.",
  );
  const arrivals = gauge('forecast_interval_arrivals', 'How many arrivals that share is of.');
  const failures = gauge('sign_in_failures_last_hour', 'Failed sign-ins of the last hour.');
  return async (database: Database, queue: Queue): Promise<void> => {
    const numbers = await networkNumbers(database);
    const calibration = await networkCalibration(database);
    for (const [state, count] of Object.entries(numbers.orders)) orders.set({ state }, count);
    for (const [state, count] of Object.entries(numbers.lenses)) lenses.set({ state }, count);
    waiting.reset();
    oldest.reset();
    for (const { topic, events, oldestSeconds } of numbers.waiting) {
      waiting.set({ topic }, events);
      oldest.set({ topic }, oldestSeconds);
    }
    for (const [state, count] of Object.entries(await queue.getJobCounts())) jobs.set({ state }, count);
    send.reset();
    if (numbers.sendSeconds !== null) {
      send.set({ quantile: '0.5' }, numbers.sendSeconds.p50);
      send.set({ quantile: '0.99' }, numbers.sendSeconds.p99);
    }
    if (calibration !== null) share.set(calibration.share);
    arrivals.set(calibration?.of ?? 0);
    failures.set(numbers.signInFailuresLastHour);
  };
}
