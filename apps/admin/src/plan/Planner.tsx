import { useDeferredValue, useState } from 'react';
import type { CaseDetail, MakerSummary, SpheroCylinder } from '@lensferry/contracts';
import { Answer } from '../shared/parts/Answer';
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
  const designs = designsOf(makers);
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
          withOffset={withOffset}
          onOffset={setWithOffset}
        />
      )}
    </Answer>
  );
}
