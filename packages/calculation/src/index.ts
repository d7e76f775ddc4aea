export * from './calculation-error.js';
export * from './optics/index.js';
export * from './uncertainty/index.js';
export * from './sizing/index.js';
export * from './rotation/index.js';
export * from './suitability-numbers/index.js';
export * from './plan/index.js';
export * from './leadtime/index.js';
