export const modes = ['system', 'light', 'dark'] as const;
export type Mode = (typeof modes)[number];

const KEY = 'lensferry.mode';
const dark = () => window.matchMedia('(prefers-color-scheme: dark)');

/** The mode that was chosen on this machine; the system's own when none was. */
export function chosenMode(): Mode {
  const kept = localStorage.getItem(KEY) as Mode | null;
  return kept && modes.includes(kept) ? kept : 'system';
}

export function chooseMode(mode: Mode): void {
  localStorage.setItem(KEY, mode);
  applyMode();
}

/** Puts the mode on the page; the tokens do the rest. */
export function applyMode(): void {
  const mode = chosenMode();
  document.documentElement.dataset['mode'] = mode === 'system' ? (dark().matches ? 'dark' : 'light') : mode;
}

/** Follows the system while nothing was chosen. */
export function followSystemMode(): void {
  applyMode();
  dark().addEventListener('change', applyMode);
}
