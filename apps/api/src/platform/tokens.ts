/** What Nest injects by name rather than by class. */
export const settingsToken = Symbol('settings');
export const clockToken = Symbol('clock');
