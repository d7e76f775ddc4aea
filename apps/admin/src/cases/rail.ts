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
  const last = (one: CaseStage) => stages.filter((entry) => entry.stage === one).at(-1);
  const path: readonly CaseStage[] = caseStages.filter((one) => one !== 'withdrawn');
  const before = stages.filter((entry) => entry.stage !== 'withdrawn').at(-1)?.stage ?? 'assessing';
  const now = path.indexOf(stage === 'withdrawn' ? before : stage);
  const stops = path
    .map((one, index): RailStop => {
      const entry = last(one);
      const place = index < now ? 'done' : index === now ? 'now' : 'ahead';
      return {
        stage: one,
        place,
        at: place === 'ahead' ? null : (entry?.at ?? null),
        note: place === 'ahead' ? null : (entry?.note ?? null),
      };
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
