import { useTranslate } from 'react-admin';
import { eyeInCapitals } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';

/** The specification as it goes to the maker, in the mono face. */
export function SpecificationText({
  order,
  big = false,
}: {
  order: Pick<OrderSummary, 'specification' | 'maker' | 'designName'>;
  big?: boolean;
}) {
  const t = useTranslate();
  const format = useFormat();
  const { specification } = order;
  return (
    <div className={big ? 'spec spec--big mono wraps' : 'spec mono wraps'}>
      <p className="spec__power">
        {t(`eye.side_capitals.${eyeInCapitals[specification.eye]}`)} {format.lensOnOrder(specification)}
      </p>
      <p>
        {t('spec.length', { length: format.mm(specification.lengthMm) })} · {order.maker.name},{' '}
        {order.designName}
      </p>
    </div>
  );
}
