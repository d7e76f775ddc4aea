import type { Database } from '../platform/database.js';
import type { Actor, Work } from '../platform/work.js';
import {
  everyClinic,
  replaceSealed,
  sealedAfter,
  sealedByOthers,
  sealedColumns,
  type SealedColumn,
  type SealedRow,
} from './sealed-texts.store.js';

/** The present or previous key does not open a text: with wrong keys nothing more is written. */
export class KeyRefused extends Error {
  override readonly name = 'KeyRefused';
}

export interface Rotation {
  readonly keyId: string;
  /** How many texts were sealed anew now, by table. */
  readonly sealed: Record<string, number>;
  /** How many texts the present key opens by itself, at the end. */
  readonly verified: Record<string, number>;
}

const actor = (clinicIds: readonly string[]): Actor => ({
  kind: 'worker',
  personId: null,
  name: 'Key rotation',
  clinicIds,
});

/**
 * Seals everything anew with the present key: in batches, each a transaction, so that a kill loses one batch at most
 * and running it again goes on from there. At its end every text is opened with the present key by itself.
 * @throws KeyRefused when a text opens with neither key.
 */
export async function rotateKey(
  database: Database,
  withPresentKeyOnly: Database,
  {
    batch = 200,
    after = () => Promise.resolve(),
  }: { batch?: number; after?: (done: number) => Promise<void> } = {},
): Promise<Rotation> {
  const clinics = await database.work(actor([]), everyClinic);
  const all = actor(clinics);
  const sealed: Record<string, number> = {};
  let done = 0;
  for (const column of sealedColumns) {
    sealed[column.table] = 0;
    // An identity's batch is one clinic's, so that the clinic's record says how many were its own.
    const scopes = column.table === 'patient_identity' ? clinics.map((id) => actor([id])) : [all];
    for (const scope of scopes)
      for (;;) {
        const count = await database.work(scope, (work) => sealBatch(work, column, batch));
        sealed[column.table]! += count;
        done += count;
        if (count > 0) await after(done);
        if (count < batch) break;
      }
  }
  const verified = await verify(withPresentKeyOnly, all, batch);
  if (done > 0) await database.work(all, (work) => note(work, clinics, verified));
  return { keyId: await database.work(all, (work) => Promise.resolve(work.box.keyId)), sealed, verified };
}

async function sealBatch(work: Work, column: SealedColumn, batch: number): Promise<number> {
  const rows = await sealedByOthers(work, column, batch);
  if (rows.length === 0) return 0;
  const anew = rows.map((row) => ({
    id: row.id,
    sealed: work.box.seal(open(work, column, row), column.purpose(row.id)),
  }));
  await replaceSealed(work, column, anew);
  const [clinicId] = work.actor.clinicIds;
  if (column.table === 'patient_identity' && clinicId !== undefined)
    work.record({
      clinicId,
      action: 'key.rotate',
      facts: { identities: rows.length, keyId: work.box.keyId },
    });
  return rows.length;
}

function open(work: Work, { table, purpose }: SealedColumn, { id, sealed }: SealedRow): string {
  try {
    return work.box.open(sealed, purpose(id));
  } catch (error) {
    throw new KeyRefused(
      `The ${table} ${id} opens neither with IDENTITY_KEY nor with IDENTITY_KEY_PREVIOUS: set the key that sealed it as the previous one. Nothing of this batch was changed.`,
      { cause: error },
    );
  }
}

async function verify(database: Database, all: Actor, batch: number): Promise<Record<string, number>> {
  const verified: Record<string, number> = {};
  for (const column of sealedColumns) {
    verified[column.table] = 0;
    let last = '00000000-0000-0000-0000-000000000000';
    for (;;) {
      const rows = await database.work(all, async (work) => {
        const found = await sealedAfter(work, column, last, batch);
        for (const row of found) open(work, column, row);
        return found;
      });
      verified[column.table]! += rows.length;
      if (rows.length < batch) break;
      last = rows.at(-1)!.id;
    }
  }
  return verified;
}

function note(work: Work, clinics: readonly string[], verified: Record<string, number>): Promise<void> {
  for (const clinicId of clinics)
    work.record({
      clinicId,
      action: 'key.rotated',
      facts: { keyId: work.box.keyId, people: verified['person'] ?? 0, makers: verified['maker'] ?? 0 },
    });
  return Promise.resolve();
}
