import { HttpException } from '@nestjs/common';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import type { Database } from '../platform/database.js';
import type { Actor, Work } from '../platform/work.js';
import { nobody } from './sessions.store.js';

const failuresAllowed = 5;
/** A whole clinic may come from one address, so it may fail more often than one account. */
const failuresAllowedFromOneAddress = 50;
const withinMinutes = 15;

/** @throws HttpException 429 after five failures of this account in fifteen minutes. */
export async function requirePatience(work: Work, account: string): Promise<void> {
  if ((await failuresOf(work, account)) < failuresAllowed) return;
  throw new HttpException(`Too many failures for this account; try again in ${withinMinutes} minutes.`, 429);
}

/** @throws HttpException 429 after fifty failed sign-ins, of whatever accounts, from this address in fifteen minutes. */
export async function requirePatienceFrom(work: Work, address: string): Promise<void> {
  if ((await failuresOf(work, accountOfAddress(address))) < failuresAllowedFromOneAddress) return;
  throw new HttpException(
    `Too many failed sign-ins from this address; try again in ${withinMinutes} minutes.`,
    429,
  );
}

/** How the names begin under which failures of addresses are kept; no account's e-mail begins like that. */
export const addressMark = 'from:';

/** What an address's failures are kept under. One IPv6 network is one address. */
export function accountOfAddress(address: string): string {
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (mapped !== undefined || !address.includes(':')) return `${addressMark}${mapped ?? address}`;
  const [head = '', tail = ''] = address.split('::').map((part) => part.split('%')[0] ?? '');
  const groups = head.split(':').filter((group) => group !== '');
  const after = tail.split(':').filter((group) => group !== '');
  const whole = address.includes('::')
    ? [...groups, ...Array<string>(Math.max(0, 8 - groups.length - after.length)).fill('0'), ...after]
    : groups;
  const network = whole.slice(0, 4).map((group) => parseInt(group, 16).toString(16));
  return `${addressMark}${network.join(':')}::/64`;
}

async function failuresOf({ tx, now }: Work, account: string): Promise<number> {
  const since = new Date(now.getTime() - withinMinutes * 60_000);
  return tx.signInAttempt.count({ where: { email: account, failed: true, at: { gte: since } } });
}

export async function noteAttempt({ tx, now }: Work, account: string, failed: boolean): Promise<void> {
  await tx.signInAttempt.create({ data: { id: uuid(), email: account, at: now, failed } });
}

/**
 * Runs what asks for the password or a code once more. A wrong one counts against the person, apart from signing in,
 * so that a session left open is no place to guess. The failed attempt is written down though the use case is undone.
 */
export async function withPassword<T>(
  database: Database,
  me: Actor,
  useCase: (work: Work) => Promise<T>,
): Promise<T> {
  const account = `again:${me.personId ?? ''}`;
  await database.work(nobody, (work) => requirePatience(work, account));
  try {
    return await database.work(me, useCase);
  } catch (error) {
    if (error instanceof DomainError && ['person.password', 'person.code'].includes(error.code))
      await database.work(nobody, (work) => noteAttempt(work, account, true));
    throw error;
  }
}
