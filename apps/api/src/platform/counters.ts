import type { Work } from './work.js';

/** The next number of a clinic's running count: gapless while transactions commit, and safe against races. */
export async function nextNumber({ tx }: Work, clinicId: string, name: string): Promise<number> {
  const [row] = await tx.$queryRaw<{ value: number }[]>`
    insert into counter (clinic_id, name, value) values (${clinicId}::uuid, ${name}, 1)
    on conflict (clinic_id, name) do update set value = counter.value + 1 returning value`;
  if (row === undefined) throw new Error('The counter gave no number.');
  return row.value;
}

const counted = { L: 'order', R: 'return', Q: 'inquiry' } as const;

/**
 * The next number of a document, such as `RE-2611-0007`: what it is, the first letter of the clinic's code, which the
 * network keeps distinct, year and month, and a running number of that month.
 */
export async function documentNumber(
  work: Work,
  kind: keyof typeof counted,
  clinic: { id: string; code: string },
): Promise<string> {
  const yearMonth = work.now.toISOString().slice(2, 7).replace('-', '');
  const count = await nextNumber(work, clinic.id, `${counted[kind]}-${yearMonth}`);
  return `${kind}${clinic.code.charAt(0)}-${yearMonth}-${String(count).padStart(4, '0')}`;
}
