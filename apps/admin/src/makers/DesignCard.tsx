import { useTranslate } from 'react-admin';
import type { DesignVersionSummary } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { When } from '../shared/parts/When';

/** The sheet of a design: what can be made of it, how long that takes and what it costs. */
export function DesignCard({
  design,
  currency,
  makerId,
  onImport,
}: {
  design: DesignVersionSummary;
  currency: string;
  makerId: string;
  /** Opens the import of an edited sheet; absent where the person may not. */
  onImport?: (() => void) | undefined;
}) {
  const t = useTranslate();
  const format = useFormat();
  const { sheet } = design;
  const range = ({ minD, maxD, stepD }: typeof sheet.sphere) =>
    t('maker.range', {
      min: format.dioptres(minD),
      max: format.dioptres(maxD),
      step: format.withUnit(stepD, 'D'),
    });
  const { stocked, made, high } = sheet.quotedWorkingDays;
  return (
    <li className="card card--padded form">
      <h3>
        {design.name} <span className="mono muted small">{design.code}</span>
      </h3>
      <dl className="facts">
        <dt>{t('field.sphereD')}</dt>
        <dd>{range(sheet.sphere)}</dd>
        <dt>{t('field.cylinderD')}</dt>
        <dd>{range(sheet.cylinder)}</dd>
        <dt>{t('field.axisDeg')}</dt>
        <dd>
          {sheet.axis.policy === 'any'
            ? t('maker.any_axis', { step: format.degrees(sheet.axis.stepDeg) })
            : t('maker.fixed_axes', {
                axes: sheet.axis.axesDeg.map(format.degrees).join(', '),
                turn: format.degrees(sheet.axis.maximumTurnDeg),
              })}
        </dd>
        <dt>{t('field.lengthMm')}</dt>
        <dd>{sheet.lengthsMm.map((length) => format.mm(length)).join(', ')}</dd>
        <dt>{t('order.quoted')}</dt>
        <dd>{t('maker.quoted', { stocked: sheet.stocked ? stocked : '–', made, high })}</dd>
        <dt>{t('order.price')}</dt>
        <dd>
          {format.money(sheet.price.base, currency)} ·{' '}
          {t('maker.high_price', {
            price: format.money(sheet.price.highCylinder, currency),
            from: format.withUnit(sheet.highCylinderFromD, 'D'),
          })}
        </dd>
        <dt>{t('maker.vault_model')}</dt>
        <dd>{sheet.vaultModel ? sheet.vaultModel.source : t('maker.by_rule')}</dd>
        <dt>{t('maker.version')}</dt>
        <dd>
          {design.version}, <When date={design.validFrom} />
        </dd>
      </dl>
      <p className="steps no-print">
        <a
          className="button button--text"
          href={`/api/makers/${makerId}/designs/${design.code}/sheet.csv`}
          download={`${design.code}.csv`}
        >
          {t('maker.sheet.export')}
        </a>
        {onImport && (
          <button type="button" className="button button--text" onClick={onImport}>
            {t('maker.sheet.import')}
          </button>
        )}
      </p>
    </li>
  );
}
