export {
  countOrders,
  LEAD_TIME_DAYS,
  type LeadTimeOutcome,
  type LeadTimeRecord,
} from './lead-time-record.js';
export * from './product-limit.js';
export * from './log-rank.js';
export * from './forecast-arrival.js';
export * from './working-days.js';
export * from './maker-clock.js';
export * from './theatre-dates.js';
export * from './calibration.js';
