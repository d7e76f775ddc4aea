import { companionLengthMm, judgeCompanion, type CompanionJudgement } from '@lensferry/calculation';
import type { CompanionSettings, DesignSheet, PlanChoice } from '@lensferry/contracts';

/** A smaller lens beside the one in hand: which size, and what both ways cost. */
export interface Companion {
  readonly lengthMm: number;
  readonly judged: CompanionJudgement;
  /** How long a replacement would be waited for, days: the quoted working days as calendar days. */
  readonly waitDays: number;
}

/** Working days as calendar days, five in seven; holidays aside. */
const calendarDays = (workingDays: number): number => Math.round((workingDays * 7) / 5);

/** The companion of a choice; null where no smaller size is made or the chosen size isn't known. */
export function companionOf(
  settings: CompanionSettings,
  sheet: DesignSheet,
  choice: Pick<PlanChoice, 'cylinderD' | 'lengthMm'>,
  chance: number,
): Companion | null {
  if (!sheet.lengthsMm.includes(choice.lengthMm)) return null;
  const lengthMm = companionLengthMm(sheet.lengthsMm, choice.lengthMm);
  if (lengthMm === null) return null;
  const high = -choice.cylinderD >= sheet.highCylinderFromD;
  const price = Number(high ? sheet.price.highCylinder : sheet.price.base);
  const waitDays = calendarDays(high ? sheet.quotedWorkingDays.high : sheet.quotedWorkingDays.made);
  const { waitingPerDay, ...terms } = settings;
  const judged = judgeCompanion(chance, {
    ...terms,
    price,
    companionPrice: price,
    waiting: Math.min(1e6, waitDays * waitingPerDay),
  });
  return { lengthMm, judged, waitDays };
}
