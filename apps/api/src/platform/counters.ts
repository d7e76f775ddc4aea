import type { Work } from './work.js';

/** The next number of a clinic's running count: gapless while transactions commit, and safe against races. */
export async function nextNumber({ tx }: Work, clinicId: string, name: string): Promise<number> {
  const [row] = await tx.$queryRaw<{ value: number }[]>`
    insert into counter (clinic_id, name, value) values (${clinicId}::uuid, ${name}, 1)
    on conflict (clinic_id, name) do update set value = counter.value + 1 returning value`;
  if (row === undefined) throw new Error('The counter gave no number.');
  return row.value;
}
