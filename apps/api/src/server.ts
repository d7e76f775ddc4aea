import 'reflect-metadata';
import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import { HttpException } from '@nestjs/common';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import { AppModule } from './app.module.js';
import type { Settings } from './config.js';
import { serveMetrics } from './metrics/serve-metrics.js';
import { serveAdmin } from './platform/admin-pages.js';
import { systemClock, type Clock } from './platform/clock.js';
import { Database } from './platform/database.js';
import { openApiOf } from './platform/open-api.js';
import { SealedBox } from './platform/sealed-box.js';

const oneMegabyte = 1_048_576;

/** The door to the data, with this process's settings. */
export function openDatabase(settings: Settings, clock: Clock = systemClock): Database {
  return new Database(
    settings.DATABASE_URL,
    settings.DATABASE_POOL,
    clock,
    new SealedBox(settings.IDENTITY_KEY, settings.IDENTITY_KEY_PREVIOUS),
  );
}

/** Builds the HTTP server with everything but the listening. */
export async function buildServer(settings: Settings, database: Database): Promise<NestFastifyApplication> {
  const adapter = new FastifyAdapter({
    bodyLimit: oneMegabyte,
    trustProxy: settings.TRUSTED_PROXIES.length > 0 && settings.TRUSTED_PROXIES,
    genReqId: undefined as never,
  });
  const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(settings, database), adapter, {
    rawBody: true,
    bufferLogs: false,
    logger: ['error', 'warn'],
  });
  const fastify = adapter.getInstance();
  // Answers are for whoever asked, now; pages and their files say their own.
  fastify.addHook('onSend', async (request, reply) => {
    if (request.url.startsWith('/api/') && !reply.hasHeader('cache-control'))
      reply.header('cache-control', 'no-store');
  });
  await app.register(cookie);
  await app.register(helmet, {
    contentSecurityPolicy: {
      directives: { defaultSrc: ["'none'"], frameAncestors: ["'none'"] },
      useDefaults: false,
    },
    crossOriginEmbedderPolicy: false,
  });
  await app.register(rateLimit, {
    max: settings.REQUESTS_PER_MINUTE,
    timeWindow: '1 minute',
    errorResponseBuilder: () => new HttpException('Too many requests; wait a minute and try again.', 429),
  });
  serveMetrics(fastify as never, settings, database);
  const document = openApiOf(app);
  fastify.get('/api/openapi.json', (_request, reply) => reply.send(document));
  if (settings.ADMIN_DIR !== undefined) await serveAdmin(fastify as never, settings.ADMIN_DIR);
  return app;
}
