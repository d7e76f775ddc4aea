export * from './normal.js';
export { MOST_DIMENSIONS, sobolPoints } from './quasi-random.js';
export { DEFAULT_SPREADS, OUTCOME_SPREADS, type OutcomeSpreads, type SourcedSpreads } from './spreads.js';
export { SOURCES_OF_SPREAD, type SourceOfSpread } from './perturbed-outcome.js';
export {
  expectedOutcome,
  type ExpectedOutcome,
  type Interval,
  type OutcomeOptions,
} from './expected-outcome.js';
export { firstOrderOutcome, type FirstOrderOutcome } from './first-order-outcome.js';
