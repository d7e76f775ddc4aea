import type { CloseCount, CountFinding } from '@lensferry/contracts';
import { countExplanations, DomainError, type CountExplanation } from '@lensferry/domain';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { keepParcel } from '../receiving/parcels.store.js';
import { loseLens } from '../stock/decide-quarantine.js';
import { loadLens } from '../stock/move-lens.js';
import { relocateLens } from '../stock/relocate-lens.js';
import { findingsOf } from './counts.queries.js';
import { endCount, loadCount, type CountRow } from './counts.store.js';

type Explained = CloseCount['explanations'][number];

/**
 * Closes a count. Every difference is explained, and the record becomes what the explanation says: a unit stands
 * elsewhere, is lost, or was only away; a stranger is kept apart as an unexpected parcel.
 * @throws DomainError `count.unexplained` naming the serials, `count.not-a-reason`, `count.moved`.
 */
export async function closeCount(work: Work, id: string, input: CloseCount): Promise<void> {
  work.need('lens.count');
  const row = await loadCount(work, id);
  const { findings, ...numbers } = await findingsOf(work, row);
  const bySerial = new Map(input.explanations.map((one) => [one.serial, one]));
  const unexplained = findings.filter(({ serial }) => !bySerial.has(serial)).map(({ serial }) => serial);
  if (unexplained.length > 0)
    throw new DomainError(
      'invalid',
      'count.unexplained',
      `Say what explains ${unexplained.slice(0, 5).join(', ')}${unexplained.length > 5 ? ` and ${unexplained.length - 5} more` : ''}.`,
      { serials: unexplained },
    );
  const explained: CountFinding[] = [];
  for (const finding of findings) {
    const by = bySerial.get(finding.serial) as Explained;
    requireReason(finding, by);
    await apply(work, row, finding, by);
    explained.push({ ...finding, explanation: by.explanation, why: by.why });
  }
  const result = { ...numbers, findings: explained };
  await endCount(work, id, input.version, {
    state: 'closed',
    result: result as unknown as Prisma.InputJsonObject,
  });
  work.record({
    clinicId: row.clinicId,
    action: 'count.close',
    facts: {
      location: row.location,
      ...numbers,
      differences: explained.map(({ serial, kind, explanation }) => `${serial}: ${kind}, ${explanation}`),
    },
  });
}

function requireReason({ kind, serial }: CountFinding, { explanation, location }: Explained): void {
  const allowed: readonly string[] = countExplanations[kind];
  const needsPlace = explanation === 'stands_elsewhere' && location === undefined;
  if (allowed.includes(explanation) && !needsPlace) return;
  throw new DomainError(
    'invalid',
    'count.not-a-reason',
    needsPlace
      ? `Say where ${serial} stands.`
      : `That does not explain ${serial}, which is ${kind}; choose one of the reasons offered.`,
    { serial, kind },
  );
}

/** What an explanation makes of the record. */
async function apply(
  work: Work,
  { clinicId, location: counted }: CountRow,
  { serial, lensId }: CountFinding,
  { explanation, location, why }: Explained,
): Promise<void> {
  switch (explanation as CountExplanation) {
    case 'stands_elsewhere':
      return relocateLens(work, await loadLens(work, lensId ?? ''), location ?? '', why);
    case 'stands_here':
      return relocateLens(work, await loadLens(work, lensId ?? ''), counted, why);
    case 'lost':
      return loseLens(work, await loadLens(work, lensId ?? ''), why);
    case 'kept_apart':
      await keepParcel(work, { clinicId, label: { text: '', serial }, location: counted, note: why });
      return;
    case 'put_back':
    case 'noted':
      return;
  }
}
