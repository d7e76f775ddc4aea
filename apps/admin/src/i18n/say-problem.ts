import type { Problem } from '@lensferry/contracts';
import { chosenLocale } from './locale';

/** A refusal of the server in the language of the screen; in English, and where no sentence is known, its own. */
export async function inOurLanguage(problem: Problem): Promise<Problem> {
  if (chosenLocale() === 'en') return problem;
  // The sentences are fetched when the first is needed; without them the server's own still says what to mend.
  const german = await import('./de/say-problem').catch(() => null);
  return german === null ? problem : german.inGerman(problem);
}
