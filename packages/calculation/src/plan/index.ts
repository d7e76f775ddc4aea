export * from './plan-types.js';
export { csvLine, parseCsv, UnreadableFile } from './csv.js';
export { planEye } from './plan-eye.js';
export { readPlanInput } from './read-plan-input.js';
export { planList, type FailedPlan } from './plan-list.js';
export { INPUT_COLUMNS, OUTPUT_COLUMNS } from './plan-csv.js';
export { planFile, type PlannedFile } from './plan-file.js';
