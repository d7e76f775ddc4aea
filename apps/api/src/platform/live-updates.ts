import { Controller, Inject, Injectable, Req, Res, type OnModuleDestroy } from '@nestjs/common';
import type { FastifyReply } from 'fastify';
import pg from 'pg';
import type { Settings } from '../config.js';
import { findByHash } from '../people/sessions.store.js';
import { connectionAs, Database } from './database.js';
import { logger } from './logger.js';
import { Me, Route, type SignedIn } from './route.js';
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
  private readonly streams = new Map<() => void, string>();
  private client: pg.Client | undefined;
  private heardBefore = false;
  private stopped = false;

  constructor(@Inject(settingsToken) private readonly settings: Settings) {}

  /** Calls back for every change in these clinics, until the returned function is called. */
  subscribe(clinicIds: readonly string[], listener: (moved: Moved) => void): () => void {
    this.listeners.set(listener, clinicIds);
    if (this.client === undefined) void this.listen();
    return () => this.listeners.delete(listener);
  }

  /** Remembers how to end a browser's stream, for when its session or this process ends. */
  holdStream(sessionHash: string, end: () => void): () => void {
    this.streams.set(end, sessionHash);
    if (this.stopped) end();
    return () => this.streams.delete(end);
  }

  async onModuleDestroy(): Promise<void> {
    this.stopped = true;
    // A server closes when its last answer is through, and these would never be.
    for (const end of this.streams.keys()) end();
    await this.client?.end().catch(() => undefined);
  }

  /** Nobody heard what moved while the database was away, so everybody is told that something may have. */
  private tellAllWhenResumed(): void {
    const moved = [{ caseId: null, orderId: null, action: 'updates.resumed' }];
    if (this.heardBefore)
      for (const [listener, [clinicId = '']] of this.listeners) listener({ clinicId, moved });
    this.heardBefore = true;
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
    client.on('notification', ({ channel, payload }) => {
      if (channel === 'lensferry_ended') {
        const { tokenHash } = JSON.parse(payload ?? '{}') as { tokenHash: string };
        for (const [end, hash] of this.streams) if (hash === tokenHash) end();
        return;
      }
      const moved = JSON.parse(payload ?? '{}') as Moved;
      for (const [listener, clinicIds] of this.listeners)
        if (clinicIds.includes(moved.clinicId)) listener(moved);
    });
    try {
      await client.connect();
      await client.query('listen lensferry_moved; listen lensferry_ended');
      this.tellAllWhenResumed();
    } catch (error) {
      logger.warn({ err: (error as Error).message }, 'live updates');
      again();
    }
  }
}

@Controller('api')
export class LiveUpdatesController {
  constructor(
    @Inject(LiveUpdates) private readonly updates: LiveUpdates,
    @Inject(Database) private readonly database: Database,
  ) {}

  @Route('GET', 'events', {
    summary: 'What moves at one’s clinics, as server-sent events.',
    access: 'case.read',
    mediaType: 'text/event-stream',
  })
  events(@Me() me: Actor, @Req() request: SignedIn, @Res() reply: FastifyReply): void {
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
    const sessionHash = request.sessionHash ?? '';
    // Nothing more is written once it ends: a change that is announced in the same breath would find it closed.
    const close = (): void => {
      end();
      raw.end();
    };
    const release = this.updates.holdStream(sessionHash, close);
    // A session that ran out, or was ended while nobody listened, ends its stream at the next beat.
    const beat = setInterval(() => {
      raw.write(': still here\n\n');
      findByHash(this.database, sessionHash, false).then(
        (session) => session === null && close(),
        () => undefined,
      );
    }, 25_000);
    raw.on('close', () => {
      clearInterval(beat);
      release();
      end();
    });
  }
}
