import { useDeferredValue, useState } from 'react';
import type { CaseDetail, MakerSummary, OffsetOffer, SpheroCylinder } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { Answer, Loading } from '../shared/parts/Answer';
import { designsOf } from './choice';
import { Planned } from './Planned';
import { usePreview } from './use-preview';

const plano: SpheroCylinder = { sphereD: 0, cylinderD: 0, axisDeg: null };

/** The target is chosen first; everything else follows from what the server computes for it. */
export function Planner({ of, makers }: { of: CaseDetail; makers: readonly MakerSummary[] }) {
  const last = of.plans.at(-1);
  const [target, setTarget] = useState<SpheroCylinder>(last?.choice.target ?? plano);
  const asked = useDeferredValue(target);
  const [withOffset, setWithOffset] = useState(false);
  const preview = usePreview(of.id, of.version, { target: asked, withOffset });
  const offset = useRead<OffsetOffer>(`/cases/${of.id}/offset`);
  const designs = designsOf(makers);
  // With the rest: what comes late would push the offers away from under the eye.
  if (offset.isPending) return <Loading />;
  return (
    <Answer query={preview}>
      {(result) => (
        <Planned
          key={of.version}
          of={of}
          designs={designs}
          result={result}
          target={target}
          onTarget={setTarget}
          offered={offset.data}
          withOffset={withOffset}
          onOffset={setWithOffset}
        />
      )}
    </Answer>
  );
}
