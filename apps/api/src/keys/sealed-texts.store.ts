import { identityPurpose } from '../cases/open-case.js';
import { makerSecretPurpose } from '../makers/makers.store.js';
import { totpPurpose } from '../people/second-factor.store.js';
import { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

/** A column that holds sealed texts: where it is, and what each text in it is sealed for. */
export interface SealedColumn {
  readonly table: 'patient_identity' | 'person' | 'maker';
  readonly column: 'sealed' | 'totp_sealed' | 'secret_sealed';
  readonly key: 'patient_id' | 'id';
  readonly purpose: (id: string) => string;
}

/** Everything that is sealed. A test compares this with the columns of the database whose names say so. */
export const sealedColumns: readonly SealedColumn[] = [
  { table: 'patient_identity', column: 'sealed', key: 'patient_id', purpose: identityPurpose },
  { table: 'person', column: 'totp_sealed', key: 'id', purpose: totpPurpose },
  { table: 'maker', column: 'secret_sealed', key: 'id', purpose: makerSecretPurpose },
];

export interface SealedRow {
  readonly id: string;
  readonly sealed: string;
}

const named = ({ table, column, key }: SealedColumn) => ({
  table: Prisma.raw(`"${table}"`),
  column: Prisma.raw(`"${column}"`),
  key: Prisma.raw(`"${key}"`),
});

/** Some of the texts that another key sealed, held until the transaction ends; an erased identity has none. */
export function sealedByOthers({ tx, box }: Work, of: SealedColumn, atMost: number): Promise<SealedRow[]> {
  const { table, column, key } = named(of);
  return tx.$queryRaw<SealedRow[]>`
    select ${key}::text as id, ${column} as sealed from ${table}
    where ${column} <> '' and not starts_with(${column}, ${box.mark}) order by ${key} limit ${atMost} for update`;
}

/** Texts of a column behind an identifier, in its order. */
export function sealedAfter(
  { tx }: Work,
  of: SealedColumn,
  id: string,
  atMost: number,
): Promise<SealedRow[]> {
  const { table, column, key } = named(of);
  return tx.$queryRaw<SealedRow[]>`
    select ${key}::text as id, ${column} as sealed from ${table}
    where ${column} <> '' and ${key} > ${id}::uuid order by ${key} limit ${atMost}`;
}

/** Puts texts that were sealed anew in the place of the old ones. */
export async function replaceSealed(
  { tx }: Work,
  of: SealedColumn,
  rows: readonly SealedRow[],
): Promise<void> {
  const { table, column, key } = named(of);
  await tx.$executeRaw`
    update ${table} as t set ${column} = n.sealed
    from unnest(${rows.map(({ id }) => id)}::uuid[], ${rows.map(({ sealed }) => sealed)}::text[]) as n(id, sealed)
    where t.${key} = n.id`;
}

/** Every clinic of the network. */
export const everyClinic = async ({ tx }: Work): Promise<string[]> =>
  (await tx.clinic.findMany({ select: { id: true }, orderBy: { code: 'asc' } })).map(({ id }) => id);
