import { useGetOne, useTranslate } from 'react-admin';
import { useParams } from 'react-router-dom';
import { eyeInCapitals } from '@lensferry/domain';
import type { LensDetail, LensSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useKeepRecent } from '../frame/recent';
import { useTellField } from '../shared/format/field-value';
import { Answer } from '../shared/parts/Answer';
import { CaseName } from '../shared/parts/CaseName';
import { Papers } from '../shared/parts/Papers';
import { Page } from '../shared/parts/Page';
import { Pill } from '../shared/parts/Pill';
import { Moment, When } from '../shared/parts/When';
import { LensActions } from './LensActions';
import { LensNotes } from './LensNotes';
import { lensTones } from './LensTable';
import { Custody } from './Custody';
import { UnitLens } from './UnitLens';

export const asks = { record: 'lenses' } satisfies Asks;

/** One lens unit: what it is, where it is, whose it is, and what can be done with it. */
export function LensPage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const query = useGetOne<LensDetail>('lenses', { id });
  const tell = useTellField();
  useKeepRecent('lens', `/lenses/${id}`, query.data?.serial);
  return (
    <Page
      title={query.data ? t('lens.title', { serial: query.data.serial }) : t('lens.one')}
      lead={query.data && <Lead lens={query.data} />}
    >
      <Answer query={query}>
        {(lens) => (
          <div className="form">
            <LensNotes lens={lens} />
            <dl className="facts card card--padded">
              <dt>{t('spec.eye')}</dt>
              <dd className="strong">
                {lens.lens.eye ? t(`eye.capitals.${eyeInCapitals[lens.lens.eye]}`) : t('lens.not_read')}
              </dd>
              <dt>{t('plan.lens')}</dt>
              <dd>
                <UnitLens of={lens} />
              </dd>
              <dt>{t('lens.serial')}</dt>
              <dd className="mono strong">{lens.serial}</dd>
              {lens.lot && (
                <>
                  <dt>{t('lens.lot')}</dt>
                  <dd className="mono">{lens.lot}</dd>
                </>
              )}
              <dt>{t('lens.expiry')}</dt>
              <dd>
                <When date={lens.expiresOn} />
              </dd>
              <dt>{t('lens.place')}</dt>
              <dd>
                {tell('location', lens.location)}, {lens.clinic.name}
              </dd>
              <dt>{t('lens.owner_label')}</dt>
              <dd>{t(`lens.owner.${lens.owner}`)}</dd>
              <dt>{t('plan.maker')}</dt>
              <dd>{lens.maker.name}</dd>
              <dt>{t('order.one')}</dt>
              <dd>
                <a className="mono" href={`/orders/${lens.order.id}`}>
                  {lens.order.number}
                </a>
              </dd>
              {lens.returnId && (
                <>
                  <dt>{t('return.one')}</dt>
                  <dd>
                    <a href={`/returns/${lens.returnId}`}>{t('lens.to_return')}</a>
                  </dd>
                </>
              )}
            </dl>
            <LensActions lens={lens} />
            <Custody stations={lens.custody} />
            <Papers papers={[{ name: 'label', href: `/api/lenses/${lens.id}/label.pdf` }]} />
          </div>
        )}
      </Answer>
    </Page>
  );
}

function Lead({ lens }: { lens: LensSummary }) {
  const t = useTranslate();
  return (
    <>
      <Pill tone={lensTones[lens.state] ?? 'sea'}>{t(`lens.state.${lens.state}`)}</Pill>{' '}
      <Moment at={lens.stateSince} />
      {lens.case && (
        <>
          {' '}
          · <CaseName of={lens.case} />
        </>
      )}
    </>
  );
}
