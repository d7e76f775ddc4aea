import { useTranslate } from 'react-admin';
import type { LensSummary } from '@lensferry/contracts';
import { LensText } from '../shared/parts/LensText';
import { useFormat } from '../shared/format/use-format';

/** What was read off a pack; what nobody read is said to be unread, never guessed from the order. */
export function UnitLens({ of }: { of: Pick<LensSummary, 'lens' | 'unread'> }) {
  const t = useTranslate();
  const format = useFormat();
  const { sphereD, cylinderD, axisDeg, lengthMm } = of.lens;
  if (sphereD === null || cylinderD === null || (of.unread.includes('axisDeg') && cylinderD !== 0))
    return (
      <span className="small">
        {t('lens.not_read')}
        {lengthMm !== null && <span className="mono"> · {format.mm(lengthMm)}</span>}
      </span>
    );
  return (
    <>
      <LensText lens={{ sphereD, cylinderD, axisDeg }} lengthMm={lengthMm} />
      {lengthMm === null && <span className="small"> · {t('lens.not_read')}</span>}
    </>
  );
}
