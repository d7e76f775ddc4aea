import type { DesignSheet } from '@lensferry/contracts';
import { v7 as uuid } from 'uuid';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

/** The purpose that makers' secrets are sealed for. */
export const makerSecretPurpose = (makerId: string): string => `maker-secret:${makerId}`;

/** So many documents may follow each other at once before a maker's pace holds them back. */
export const burst = 5;

/**
 * Takes one sending of a maker's share, if it has one left: a leaky bucket in the database, so that any number of
 * workers keep one pace.
 * @returns how long to wait in milliseconds; 0 when the sending was taken.
 */
export async function takePace({ tx }: Work, makerId: string): Promise<number> {
  const taken = await tx.$executeRaw`
    update maker set paced_until = greatest(coalesce(paced_until, clock_timestamp()), clock_timestamp())
      + make_interval(secs => 60.0 / sends_per_minute)
    where id = ${makerId}::uuid and coalesce(paced_until, clock_timestamp())
      <= clock_timestamp() + make_interval(secs => 60.0 / sends_per_minute * ${burst - 1})`;
  if (taken > 0) return 0;
  const [row] = await tx.$queryRaw<{ wait: number }[]>`
    select extract(epoch from paced_until - clock_timestamp())::float8 * 1000
      - 60000.0 / sends_per_minute * ${burst - 1} as wait from maker where id = ${makerId}::uuid`;
  return Math.max(20, Math.ceil(Number(row?.wait ?? 20)));
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
