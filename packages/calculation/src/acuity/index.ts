export * from './acuity.js';
