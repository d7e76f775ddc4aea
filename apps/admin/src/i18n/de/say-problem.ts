import type { Problem } from '@lensferry/contracts';
import lens from './lens';
import order from './order';
import problems from './problems';
import returns from './returns';
import trade from './trade';

const sentences: Record<string, string> = problems;
const states: Record<string, Record<string, string>> = {
  order: order.order.state,
  lens: lens.lens.state,
  implant: lens.lens.state,
  return: returns.return.state,
};
const names: Record<string, string> = { ...trade.kind, ...trade.field };

/** The German sentence of a problem, with its facts filled in; null where there is none or a fact is missing. */
export function sentenceOf({ code, facts }: Pick<Problem, 'code' | 'facts'>): string | null {
  const sentence = sentences[code];
  if (sentence === undefined) return null;
  const section = code.split('.')[0] ?? '';
  let whole = true;
  const told = sentence.replaceAll(/%\{(\w+)\}/g, (_, name: string) => {
    const value = facts?.[name];
    if (value === undefined || value === null) whole = false;
    if (name === 'state') return states[section]?.[String(value)] ?? String(value);
    return [value]
      .flat()
      .map((one) => names[String(one)] ?? String(one))
      .join(', ');
  });
  return whole ? told : null;
}

/** The problem as a German screen says it. A single wrong field says what the problem says. */
export function inGerman(problem: Problem): Problem {
  const detail = sentenceOf(problem);
  if (detail === null) return problem;
  const [only, ...more] = problem.errors ?? [];
  if (only === undefined || more.length > 0 || problem.code.startsWith('input.'))
    return { ...problem, detail };
  return { ...problem, detail, errors: [{ ...only, message: detail }] };
}
