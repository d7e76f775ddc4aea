import { useGetOne, useTranslate } from 'react-admin';
import { useParams } from 'react-router-dom';
import type { ReturnSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useMay } from '../providers/session';
import { useFormat } from '../shared/format/use-format';
import { useKeepRecent } from '../frame/recent';
import { Answer } from '../shared/parts/Answer';
import { CaseName } from '../shared/parts/CaseName';
import { TellMaker } from '../shared/parts/TellMaker';
import { Papers } from '../shared/parts/Papers';
import { Page } from '../shared/parts/Page';
import { Moment, When } from '../shared/parts/When';
import { ReturnSteps } from './ReturnSteps';
import { WindowPill } from './WindowPill';
import '../cases/case.css';
import '../orders/order.css';

export const asks = { record: 'returns' } satisfies Asks;

/** One return: why, until when, where it is, and its credit. Prints as the note that goes into the parcel. */
export function ReturnPage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const mayTell = useMay('lens.return');
  const query = useGetOne<ReturnSummary>('returns', { id });
  useKeepRecent('return', `/returns/${id}`, query.data?.number);
  return (
    <Page
      title={query.data ? t('return.title', { number: query.data.number }) : t('return.one')}
      lead={
        query.data && (
          <>
            <WindowPill of={query.data} /> {t(`return.state.${query.data.state}`)},{' '}
            <Moment at={query.data.stateSince} zone={query.data.clinic.timeZone} />
          </>
        )
      }
    >
      <Answer query={query}>
        {(one) => (
          <>
            <TellMaker of={one} what="returns" paper={`/api/returns/${one.id}/note.pdf`} may={mayTell} />
            <div className="order">
              <ReturnFacts of={one} />
              <ReturnSteps of={one} />
            </div>
            <Papers papers={[{ name: 'note_pdf', href: `/api/returns/${one.id}/note.pdf` }]} />
          </>
        )}
      </Answer>
    </Page>
  );
}

function ReturnFacts({ of }: { of: ReturnSummary }) {
  const t = useTranslate();
  const format = useFormat();
  const zone = of.clinic.timeZone;
  return (
    <dl className="facts card card--padded">
      <dt>{t('lens.one')}</dt>
      <dd>
        <a className="mono strong" href={`/lenses/${of.lens.id}`}>
          {of.lens.serial}
        </a>
      </dd>
      {of.case && (
        <>
          <dt>{t('case.one')}</dt>
          <dd>
            <CaseName of={of.case} /> <span className="mono">{of.case.code}</span>
          </dd>
        </>
      )}
      <dt>{t('return.to')}</dt>
      <dd>{of.maker.name}</dd>
      <dt>{t('return.from')}</dt>
      <dd>{of.clinic.name}</dd>
      <dt>{t('return.reason')}</dt>
      <dd>{t(`exchange.reason.${of.reason}`, { _: of.reason })}</dd>
      <dt>{t('return.window')}</dt>
      <dd>
        <When date={of.windowClosesOn} zone={zone} />
      </dd>
      <dt>{t('return.authorisation')}</dt>
      <dd className="mono">{of.authorisation ?? '–'}</dd>
      <dt>{t('order.tracking')}</dt>
      <dd className="mono">{of.tracking ?? '–'}</dd>
      <dt>{t('return.credit_expected')}</dt>
      <dd>{format.money(of.creditExpected, of.currency)}</dd>
      {of.creditGot && (
        <>
          <dt>{t('return.credit_got')}</dt>
          <dd>{format.money(of.creditGot, of.currency)}</dd>
        </>
      )}
      {of.note && (
        <>
          <dt>{t('return.note')}</dt>
          <dd>{of.note}</dd>
        </>
      )}
    </dl>
  );
}
