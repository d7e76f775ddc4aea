export * from './calculation-error.js';
export * from './optics/index.js';
export * from './uncertainty/index.js';
