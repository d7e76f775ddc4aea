export { gs1CheckDigit, hasGs1CheckDigit, hibcCheckCharacter } from './check-characters.js';
export * from './compare-label.js';
export * from './label-error.js';
export * from './label-reading.js';
export { LENS_ELEMENT_RANGES, readLensElement, writeLensElement } from './lens-element.js';
export * from './read-label.js';
export * from './write-label.js';
