import { useTranslate } from 'react-admin';
import type { LensState } from '@lensferry/domain';
import type { LensSummary } from '@lensferry/contracts';
import { useTellField } from '../shared/format/field-value';
import { CaseName } from '../shared/parts/CaseName';
import { Pill, type Tone } from '../shared/parts/Pill';
import { When } from '../shared/parts/When';
import { TableWrap } from '../shared/parts/TableWrap';
import { useTellExpiry } from './tell-expiry';
import { UnitLens } from './UnitLens';

export const lensTones: Partial<Record<LensState, Tone>> = {
  reserved: 'moss',
  in_stock: 'moss',
  quarantined: 'brick',
  expired: 'brick',
  explanted: 'amber',
  discarded: 'plain',
  credited: 'plain',
};

export function LensTable({
  lenses,
  withCase = true,
}: {
  lenses: readonly LensSummary[];
  withCase?: boolean;
}) {
  const tellExpiry = useTellExpiry();
  const tell = useTellField();
  const t = useTranslate();
  return (
    <TableWrap label={t('list.table', { name: t('place.shelf') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('lens.serial')}</th>
            {withCase && <th>{t('case.one')}</th>}
            <th>{t('plan.lens')}</th>
            <th>{t('lens.stands')}</th>
            <th>{t('lens.place')}</th>
            <th>{t('lens.expiry')}</th>
          </tr>
        </thead>
        <tbody>
          {lenses.map((lens) => (
            <tr key={lens.id}>
              <th scope="row">
                <a className="mono" href={`/lenses/${lens.id}`}>
                  {lens.serial}
                </a>
                <p className="muted small">{lens.maker.name}</p>
              </th>
              {withCase && (
                <td>
                  {lens.case ? (
                    <CaseName of={lens.case} />
                  ) : (
                    <span className="muted">{t('lens.no_case')}</span>
                  )}
                </td>
              )}
              <td>
                <span className="small">
                  {lens.lens.eye ? t(`eye.${lens.lens.eye}`) : t('lens.not_read')}
                </span>
                <br />
                <UnitLens of={lens} />
              </td>
              <td>
                <Pill tone={lensTones[lens.state] ?? 'sea'}>{t(`lens.state.${lens.state}`)}</Pill>
                {lens.quarantineWhy && <p className="muted small">{lens.quarantineWhy}</p>}
              </td>
              <td data-label={t('lens.place')}>{tell('location', lens.location)}</td>
              <td data-label={t('lens.expiry')}>
                <When date={lens.expiresOn} />
                {lens.expiryWarning && (
                  <p>
                    <Pill tone="amber">{t('lens.expiring')}</Pill>{' '}
                    <span className="small">{tellExpiry(lens)}</span>
                  </p>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}
