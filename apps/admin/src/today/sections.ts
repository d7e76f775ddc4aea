import type { Role } from '@lensferry/domain';
import type { Today } from '@lensferry/contracts';

/** The lists of the page of today. */
export type SectionName = Exclude<keyof Today, 'counts'>;

const surgeon: SectionName[] = [
  'toSign',
  'quarantined',
  'poorVaults',
  'inTheatre',
  'atRisk',
  'visitsDue',
  'toPlan',
  'exchanges',
  'toConsider',
  'toSchedule',
  'toMeasure',
  'toSubmit',
];
const coordinator: SectionName[] = [
  'atRisk',
  'sendFailed',
  'toTell',
  'declined',
  'cancelling',
  'changing',
  'toPlace',
  'toSubmit',
  'poorVaults',
  'toPlan',
  'toSchedule',
  'toMeasure',
  'inTheatre',
  'visitsDue',
  'exchanges',
  'toConsider',
  'toSign',
  'toReturn',
  'openCounts',
  'transfers',
  'returns',
  'expiring',
  'quarantined',
  'missingFromParcel',
  'unexpected',
  'toReceive',
];
const inventory: SectionName[] = [
  'unexpected',
  'missingFromParcel',
  'toReceive',
  'quarantined',
  'toReturn',
  'openCounts',
  'transfers',
  'returns',
  'expiring',
  'atRisk',
  'exchanges',
  'inTheatre',
];
const everything: SectionName[] = [
  'sendFailed',
  'toTell',
  'atRisk',
  'declined',
  'cancelling',
  'changing',
  'quarantined',
  'toSign',
  'poorVaults',
  'exchanges',
  'toConsider',
  'toReturn',
  'openCounts',
  'transfers',
  'returns',
  'expiring',
  'unexpected',
  'missingFromParcel',
  'toReceive',
  'inTheatre',
  'visitsDue',
  'toPlan',
  'toPlace',
  'toSubmit',
  'toSchedule',
  'toMeasure',
];

/** In which order a role reads its day; what it can't move comes last. */
export const sectionsOf: Record<Role, readonly SectionName[]> = {
  surgeon,
  coordinator,
  inventory,
  administrator: everything,
  auditor: everything,
};

/** The lists of a role that hold something, in its order. */
export function filledSections(today: Today, role: Role): SectionName[] {
  return sectionsOf[role].filter((name) => today[name].length > 0);
}

/** How many of the lists are spoken of in the sentence at the top. */
const SPOKEN = 3;

/** The parts of the sentence at the top: what stands first in the role's day, with how many. */
export function spokenOf(today: Today, role: Role): { key: string; count: number }[] {
  return filledSections(today, role)
    .slice(0, SPOKEN)
    .map((name) => ({
      key: `today.say.${name}`,
      count: name === 'atRisk' ? riskCount(today) : today[name].length,
    }))
    .filter(({ count }) => count > 0);
}

function riskCount(today: Today): number {
  return today.atRisk.filter(({ forecast, late }) => late || (forecast?.inTime ?? 1) < 0.9).length;
}
