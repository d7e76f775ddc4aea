import type { DesignSheet } from '@lensferry/contracts';
import { v7 as uuid } from 'uuid';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

/** The purpose that makers' secrets are sealed for. */
export const makerSecretPurpose = (makerId: string): string => `maker-secret:${makerId}`;

/** So many documents may follow each other at once before a maker's pace holds them back. */
export const burst = 5;

/**
 * Takes as many sendings of a maker's share as are wanted and left: a leaky bucket in the database, so that any number
 * of workers keep one pace.
 * @returns how many were taken, and how long the next one has to wait in milliseconds.
 */
export async function takePace(
  { tx }: Work,
  makerId: string,
  wanted: number,
): Promise<{ taken: number; waitMs: number }> {
  const [row] = await tx.$queryRaw<{ taken: number; wait: number }[]>`
    with bucket as (
      select id, clock_timestamp() as seen, paced_until, 60.0 / sends_per_minute as pause
      from maker where id = ${makerId}::uuid for update
    ), fill as (
      select id, pause, greatest(coalesce(paced_until, seen), seen) as full_at,
        extract(epoch from greatest(coalesce(paced_until, seen), seen) - seen) as behind
      from bucket
    ), part as (
      select *, least(${wanted}::int, greatest(0, floor(${burst}::int - behind / pause)))::int as taken from fill
    ), paced as (
      update maker m set paced_until = full_at + make_interval(secs => (pause * taken)::float8)
      from part where m.id = part.id and taken > 0
    )
    select taken, (1000 * (behind + pause * (taken - ${burst - 1}::int)))::float8 as wait from part`;
  return { taken: row?.taken ?? 0, waitMs: Math.max(20, Math.ceil(row?.wait ?? 20)) };
}

/** Every maker of the network, by identifier. */
export async function makersById({ tx }: Work) {
  return new Map((await tx.maker.findMany()).map((maker) => [maker.id, maker]));
}
export type MakersById = Awaited<ReturnType<typeof makersById>>;

/** A maker's design with its newest version, which may be valid only from a day to come. `lock` keeps others out. */
export async function newestDesignVersion(
  { tx }: Work,
  { makerId, code, lock }: { makerId: string; code: string; lock: boolean },
) {
  if (lock) await tx.$queryRaw`select id from design where code = ${code} for update`;
  return tx.design.findUnique({
    where: { code, makerId },
    include: { maker: true, versions: { orderBy: { version: 'desc' }, take: 1 } },
  });
}

/** Adds a version to a design; earlier ones stay as they are for the plans and orders that name them. */
export async function addDesignVersion(
  { tx }: Work,
  row: { designId: string; version: number; validFrom: Date; sheet: DesignSheet },
): Promise<void> {
  const sheet = row.sheet as unknown as Prisma.InputJsonObject;
  await tx.designVersion.create({ data: { id: uuid(), ...row, sheet } });
}
