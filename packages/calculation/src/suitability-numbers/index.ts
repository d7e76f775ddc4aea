export * from './refraction-change.js';
export * from './stability.js';
export * from './axis-agreement.js';
export * from './expected-lines-lost.js';
