import { Controller, Inject, Injectable, Res, type OnModuleDestroy } from '@nestjs/common';
import type { FastifyReply } from 'fastify';
import pg from 'pg';
import type { Settings } from '../config.js';
import { connectionAs } from './database.js';
import { logger } from './logger.js';
import { Me, Route } from './route.js';
import { settingsToken } from './tokens.js';
import type { Actor } from './work.js';

interface Moved {
  clinicId: string;
  moved: { caseId: string | null; orderId: string | null; action: string }[];
}

/** Hears what every process of the network changed, and tells the browsers of that clinic. */
@Injectable()
export class LiveUpdates implements OnModuleDestroy {
  private readonly listeners = new Map<(moved: Moved) => void, readonly string[]>();
  private client: pg.Client | undefined;
  private stopped = false;

  constructor(@Inject(settingsToken) private readonly settings: Settings) {}

  /** Calls back for every change in these clinics, until the returned function is called. */
  subscribe(clinicIds: readonly string[], listener: (moved: Moved) => void): () => void {
    this.listeners.set(listener, clinicIds);
    if (this.client === undefined) void this.listen();
    return () => this.listeners.delete(listener);
  }

  async onModuleDestroy(): Promise<void> {
    this.stopped = true;
    await this.client?.end().catch(() => undefined);
  }

  private async listen(): Promise<void> {
    const client = new pg.Client({
      connectionString: connectionAs('lensferry_app', this.settings.DATABASE_URL),
    });
    this.client = client;
    const again = (): void => {
      if (this.stopped || this.client !== client) return;
      this.client = undefined;
      setTimeout(
        () => this.listeners.size > 0 && this.client === undefined && void this.listen(),
        1000,
      ).unref();
    };
    client.on('error', again);
    client.on('end', again);
    client.on('notification', ({ payload }) => {
      const moved = JSON.parse(payload ?? '{}') as Moved;
      for (const [listener, clinicIds] of this.listeners)
        if (clinicIds.includes(moved.clinicId)) listener(moved);
    });
    try {
      await client.connect();
      await client.query('listen lensferry_moved');
    } catch (error) {
      logger.warn({ err: (error as Error).message }, 'live updates');
      again();
    }
  }
}

@Controller('api')
export class LiveUpdatesController {
  constructor(@Inject(LiveUpdates) private readonly updates: LiveUpdates) {}

  @Route('GET', 'events', {
    summary: 'What moves at one’s clinics, as server-sent events.',
    access: 'case.read',
    mediaType: 'text/event-stream',
  })
  events(@Me() me: Actor, @Res() reply: FastifyReply): void {
    const { raw } = reply;
    reply.hijack();
    raw.writeHead(200, {
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      connection: 'keep-alive',
      'x-accel-buffering': 'no',
    });
    raw.write(': connected\n\n');
    const end = this.updates.subscribe(me.clinicIds, ({ moved }) => {
      for (const change of moved) raw.write(`event: moved\ndata: ${JSON.stringify(change)}\n\n`);
    });
    const beat = setInterval(() => raw.write(': still here\n\n'), 25_000);
    raw.on('close', () => {
      clearInterval(beat);
      end();
    });
  }
}
