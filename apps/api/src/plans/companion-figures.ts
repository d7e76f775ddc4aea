import type { CompanionSettings } from '@lensferry/contracts';
import type { Limits } from '@lensferry/domain';

/** What a smaller lens beside the chosen one is judged by, kept with the plan. */
export const companionFigures = (limits: Limits): CompanionSettings => ({
  fromChance: limits.companionFromPercent / 100,
  restockingShare: limits.companionRestockingPercent / 100,
  explantedCreditShare: limits.companionExplantedCreditPercent / 100,
  secondOperation: limits.companionSecondOperation,
  waitingPerDay: limits.companionWaitingPerDay,
  seenInTheatreShare: limits.companionSeenInTheatrePercent / 100,
});
