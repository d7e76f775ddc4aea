import { PrismaPg } from '@prisma/adapter-pg';
import { PrismaClient, type Prisma } from './prisma-client/client.js';
import type { Clock } from './clock.js';
import { ScopedClient } from './scoped-client.js';
import type { SealedBox } from './sealed-box.js';
import { spanned } from './tracing.js';
import { Work, type Actor } from './work.js';

/** A transaction that waits longer than this for a connection gives up: better a clear answer than a pile-up. */
const maxWait = 8_000;
const timeout = 30_000;

/** A role of the database that a connection takes at its start; neither owns a table nor bypasses a policy. */
export type DatabaseRole = 'lensferry_app' | 'lensferry_relay';

/** The same address, with the role that the connection takes before anything else. */
export function connectionAs(role: DatabaseRole, databaseUrl: string): string {
  const url = new URL(databaseUrl);
  const own = url.searchParams.get('options');
  url.searchParams.set('options', [own, `-c role=${role}`].filter(Boolean).join(' '));
  return url.toString();
}

/** Statements beyond so many are not kept: lists of identifiers make a new one for each length. */
const mostStatements = 500;

/**
 * Names statements, so that PostgreSQL plans each once a connection: with row-level security planning takes longer than
 * reading a page of rows.
 */
function nameStatements(): (statement: { sql: string }) => string {
  const names = new Map<string, string>();
  return ({ sql }) => {
    const known = names.get(sql);
    if (known !== undefined) return known;
    // Without a name the driver plans it for this once.
    if (names.size >= mostStatements) return '';
    const name = `lf${names.size}`;
    names.set(sql, name);
    return name;
  };
}

/**
 * The door to the data. Every use case runs in one transaction that carries its actor's clinics, so the database's
 * policies hold whatever the code asks for.
 */
export class Database {
  private readonly prisma: PrismaClient;

  constructor(
    databaseUrl: string,
    poolSize: number,
    readonly clock: Clock,
    private readonly box: SealedBox,
  ) {
    const adapter = new PrismaPg(
      { connectionString: connectionAs('lensferry_app', databaseUrl), max: poolSize, Client: ScopedClient },
      { statementNameGenerator: nameStatements() },
    );
    this.prisma = new PrismaClient({ adapter });
  }

  /** Runs a use case as an actor; its record and outbox are written in the same transaction. */
  work<T>(actor: Actor, useCase: (work: Work) => Promise<T>): Promise<T> {
    return spanned('work', { 'lensferry.actor': actor.kind, 'lensferry.use_case': useCase.name }, () =>
      this.transaction(actor, useCase),
    );
  }

  private transaction<T>(actor: Actor, useCase: (work: Work) => Promise<T>): Promise<T> {
    return this.prisma.$transaction(
      async (tx) => {
        const scope = `{${actor.clinicIds.join(',')}}`;
        await tx.$executeRaw`select set_config('app.clinic_ids', ${scope}, true)`;
        const work = new Work(tx, actor, this.clock.now(), this.box);
        const answer = await useCase(work);
        await work.finish();
        return answer;
      },
      { maxWait, timeout },
    );
  }

  /** One question by itself that needs no clinic's rows: no transaction, and the policies show it none. */
  ask<Row>(question: Prisma.Sql): Promise<Row[]> {
    return this.prisma.$queryRaw<Row[]>(question);
  }

  /** Whether the database answers. */
  async answers(): Promise<boolean> {
    return this.prisma.$queryRaw`select 1`.then(
      () => true,
      () => false,
    );
  }

  async close(): Promise<void> {
    await this.prisma.$disconnect();
  }
}
