import type { CountFinding, StockCount, StockCountDetail, StockCounts } from '@lensferry/contracts';
import { standingStates, type CountDifference } from '@lensferry/domain';
import { instantOrNull } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { loadCount, type CountRow } from './counts.store.js';

const endedShown = 20;
const most = 2000;

/** What a count finds amiss by what was read so far: nothing of it is written. */
export async function findingsOf(
  { tx }: Work,
  row: CountRow,
): Promise<{ expected: number; found: number; read: number; findings: CountFinding[] }> {
  const readings = await tx.countReading.findMany({
    where: { clinicId: row.clinicId, countId: row.id },
    select: { serial: true },
    orderBy: { readAt: 'asc' },
  });
  const read = new Set(readings.map(({ serial }) => serial));
  const units = await tx.lensUnit.findMany({
    where: {
      clinicId: row.clinicId,
      OR: [
        { state: { in: [...standingStates] }, location: { equals: row.location, mode: 'insensitive' } },
        { serial: { in: [...read] } },
      ],
    },
    include: { order: { include: { eyeCase: { include: { patient: true } } } } },
    orderBy: { serial: 'asc' },
    take: most,
  });
  const standsHere = ({ state, location }: (typeof units)[number]): boolean =>
    standingStates.includes(state) && location.toLowerCase() === row.location.toLowerCase();
  const here = units.filter(standsHere);
  const finding = (kind: CountDifference, serial: string, unit?: (typeof units)[number]): CountFinding => ({
    kind,
    serial,
    lensId: unit?.id ?? null,
    state: unit?.state ?? null,
    location: unit?.location ?? null,
    codeName: unit?.caseId == null ? null : unit.order.eyeCase.patient.codeName,
    explanation: null,
    why: null,
  });
  const findings = [
    ...here.filter(({ serial }) => !read.has(serial)).map((unit) => finding('missing', unit.serial, unit)),
    ...readings.flatMap(({ serial }) => {
      const own = units.filter((unit) => unit.serial === serial);
      if (own.some(standsHere)) return [];
      const standing = own.find(({ state }) => standingStates.includes(state));
      return standing === undefined
        ? [finding('unexpected', serial, own[0])]
        : [finding('misplaced', serial, standing)];
    }),
  ];
  return {
    expected: here.length,
    found: here.filter(({ serial }) => read.has(serial)).length,
    read: read.size,
    findings,
  };
}

/** What an ended count kept of itself. */
export interface CountResult {
  readonly expected: number;
  readonly found: number;
  readonly read: number;
  readonly findings: CountFinding[];
}

export async function showCount(work: Work, id: string): Promise<StockCountDetail> {
  const row = await loadCount(work, id);
  const result = row.result as unknown as CountResult | null;
  const { findings, ...numbers } = result ?? (await findingsOf(work, row));
  return { ...(await describe(work, [row], numbers))[0]!, findings };
}

/** Counts that nobody has closed, the oldest first. */
export async function openCounts(work: Work, mostShown: number): Promise<StockCount[]> {
  const rows = await work.tx.stockCount.findMany({
    where: { state: 'open' },
    orderBy: [{ openedAt: 'asc' }, { id: 'asc' }],
    take: mostShown,
  });
  return describe(work, rows);
}

export async function listCounts(work: Work): Promise<StockCounts> {
  const ended = await work.tx.stockCount.findMany({
    where: { state: { not: 'open' } },
    orderBy: [{ endedAt: 'desc' }, { id: 'asc' }],
    take: endedShown,
  });
  const places = await work.tx.lensUnit.groupBy({
    by: ['clinicId', 'location'],
    where: { state: { in: [...standingStates] } },
    _count: true,
    orderBy: [{ clinicId: 'asc' }, { location: 'asc' }],
    take: most,
  });
  const names = await clinicNames(work);
  return {
    items: [...(await openCounts(work, most)), ...(await describe(work, ended))],
    places: places.map(({ clinicId, location, _count: units }) => ({
      clinicId,
      clinicName: names.get(clinicId) ?? '',
      location,
      units,
    })),
  };
}

async function clinicNames({ tx }: Work): Promise<Map<string, string>> {
  return new Map((await tx.clinic.findMany()).map(({ id, name }) => [id, name]));
}

async function describe(
  work: Work,
  rows: readonly CountRow[],
  known?: { expected: number; found: number; read: number },
): Promise<StockCount[]> {
  const names = await clinicNames(work);
  const described: StockCount[] = [];
  for (const row of rows) {
    const result = row.result as unknown as CountResult | null;
    const { expected, found, read } =
      known ??
      result ??
      (row.state === 'open' ? await findingsOf(work, row) : { expected: 0, found: 0, read: 0 });
    described.push({
      id: row.id,
      clinic: { id: row.clinicId, name: names.get(row.clinicId) ?? '' },
      location: row.location,
      state: row.state,
      openedAt: row.openedAt.toISOString(),
      openedBy: row.openedBy,
      endedAt: instantOrNull(row.endedAt),
      endedBy: row.endedBy,
      expected,
      found,
      read,
      version: row.version,
    });
  }
  return described;
}
