import { useDeferredValue, useMemo } from 'react';
import { useTranslate } from 'react-admin';
import { CalculationError, VAULT_BANDS } from '@lensferry/calculation';
import type { CaseDetail, PlanChoice, PlanResult } from '@lensferry/contracts';
import { CrossSection } from '../shared/drawing/CrossSection';
import { FaceView } from '../shared/drawing/FaceView';
import { SizeBars } from '../shared/drawing/SizeBars';
import { Section } from '../shared/parts/Page';
import { faceOf, widthOf } from '../cases/eye-numbers';
import { plannedInput, type DesignChoice } from './choice';
import { companionOf } from './companion';
import { CompanionPart } from './CompanionPart';
import { DoubleAngle } from './DoubleAngle';
import { WhatIfNumbers } from './WhatIfNumbers';
import { eyeOf, sizesOf, whatIf } from './what-if';

interface Props {
  of: CaseDetail;
  result: PlanResult;
  choice: PlanChoice;
  design: DesignChoice;
  onLength: (lengthMm: number) => void;
  onCompanion: (lengthMm: number | undefined) => void;
}

/** What the lens in hand would do, computed in the browser by the same package as on the server. */
export function WhatIfPictures({ of, result, choice, design, onLength, onCompanion }: Props) {
  const t = useTranslate();
  const { input } = result;
  const { sheet } = design;
  const asked = useDeferredValue(choice);
  const planned = useMemo(() => plannedInput(result), [result]);
  const found = useMemo(
    () => whatIf(eyeOf(planned, asked.target, sheet), asked, sheet),
    [planned, asked, sheet],
  );
  const own = useMemo(() => sizesOf(input, sheet), [input, sheet]);
  // In an exchange the eye's own measured vault speaks louder than any model: those sizes are the server's.
  const served = result.sizing.find(({ designVersionId }) => designVersionId === design.id);
  const sizes =
    served?.basis === 'exchange' ? served.sizes : own instanceof CalculationError ? [] : own.sizes;
  const reasons =
    served?.basis === 'exchange'
      ? served.reasons
      : own instanceof CalculationError
        ? [own.message]
        : own.reasons.map(({ message }) => message);
  const width = widthOf(input);
  const size = sizes.find(({ lengthMm }) => lengthMm === choice.lengthMm);
  const companion = size && result.companion ? companionOf(result.companion, sheet, choice, size.high) : null;
  if (found instanceof CalculationError) return <p className="note note--brick">{found.message}</p>;
  return (
    <>
      <div className="plan__pictures">
        <FaceView input={{ ...faceOf(of, input), lensAxisDeg: choice.axisDeg, turnDeg: found.turnDeg }} />
        <DoubleAngle result={found} target={choice.target} />
        {width && (
          <CrossSection
            eye={{
              meanKeratometryD: (input.keratometry.flatD + input.keratometry.steepD) / 2,
              cornealThicknessUm: input.cornealThicknessUm,
              depthMm: input.depthFromEndotheliumMm,
              lensRiseUm: input.lensRiseUm,
              ...width,
            }}
            lens={size ? { lengthMm: size.lengthMm, vaultUm: size.vaultUm.p50, spread: size.vaultUm } : null}
            others={sizes
              .filter(
                ({ lengthMm }) => lengthMm !== choice.lengthMm && Math.abs(lengthMm - choice.lengthMm) < 0.3,
              )
              .map(({ lengthMm, vaultUm }) => ({ lengthMm, vaultUm: vaultUm.p50, spread: null }))}
          />
        )}
      </div>
      <WhatIfNumbers found={found} result={result} choice={choice} />
      <Section title={t('draw.sizes_title')} note={t('draw.sizes_note')}>
        <SizeBars
          sizes={sizes}
          chosenMm={choice.lengthMm}
          band={{ lowUm: VAULT_BANDS.lowBelowUm, highUm: VAULT_BANDS.highAboveUm }}
          onChoose={onLength}
        />
        <ul className="muted small plan__reasons">
          {reasons.map((reason) => (
            <li key={reason}>{reason}</li>
          ))}
        </ul>
      </Section>
      {companion && size && result.companion && (
        <CompanionPart
          companion={companion}
          chosen={size}
          smaller={sizes.find(({ lengthMm }) => lengthMm === companion.lengthMm)}
          settings={result.companion}
          currency={design.currency}
          ordered={choice.companionLengthMm === companion.lengthMm}
          onOrder={(ordered) => onCompanion(ordered ? companion.lengthMm : undefined)}
        />
      )}
    </>
  );
}
