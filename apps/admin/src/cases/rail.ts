import { caseStages, type CaseStage } from '@lensferry/domain';
import type { CaseDetail } from '@lensferry/contracts';

export interface RailStop {
  stage: CaseStage;
  place: 'done' | 'now' | 'ahead';
  /** When the stage was last reached. */
  at: string | null;
  note: string | null;
}

type RailInput = Pick<CaseDetail, 'stage' | 'stages'>;

/**
 * The stages of a case in their order, each done, present or ahead. A stage that was passed without a stop (an eye
 * that was stable when it came) is left out; a withdrawn case ends where it was withdrawn.
 */
export function railOf({ stage, stages }: RailInput): RailStop[] {
  const last = (one: CaseStage, until = '9999') =>
    stages.filter((entry) => entry.stage === one && entry.at <= until).at(-1);
  const path: readonly CaseStage[] = caseStages.filter((one) => one !== 'withdrawn');
  const before = stages.filter((entry) => entry.stage !== 'withdrawn').at(-1)?.stage ?? 'assessing';
  const now = path.indexOf(stage === 'withdrawn' ? before : stage);
  // Each stage as it was reached on the way to the next one: an exchange passes some of them twice.
  const reached: (ReturnType<typeof last> | undefined)[] = [];
  for (let index = now, until = '9999'; index >= 0; index -= 1) {
    const entry = last(path[index] ?? 'assessing', until);
    reached[index] = entry;
    until = entry?.at ?? until;
  }
  const stops = path
    .map((one, index): RailStop => {
      const place = index < now ? 'done' : index === now ? 'now' : 'ahead';
      const entry = reached[index];
      return { stage: one, place, at: entry?.at ?? null, note: entry?.note ?? null };
    })
    .filter((stop) => stop.place !== 'done' || stop.at !== null)
    .filter((stop) => stop.stage !== 'stabilising' || stop.place !== 'ahead' || stage === 'assessing');
  if (stage !== 'withdrawn') return stops;
  const end = last('withdrawn');
  const passed = stops
    .filter(({ place }) => place !== 'ahead')
    .map((stop): RailStop => ({ ...stop, place: 'done' }));
  return [...passed, { stage: 'withdrawn', place: 'now', at: end?.at ?? null, note: end?.note ?? null }];
}
