import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { useNavigate } from 'react-router-dom';
import { StartCount, type StockCount, type StockCountDetail, type StockCounts } from '@lensferry/contracts';
import { useMay, useSession } from '../providers/session';
import { useRead } from '../providers/use-read';
import { ClinicField } from '../shared/forms/ClinicField';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { Answer, Empty } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import { Pill } from '../shared/parts/Pill';
import { Moment } from '../shared/parts/When';
import './count.css';

/** Counts of what really stands in a place: begun here, the open ones on top. */
export function CountsPage() {
  const t = useTranslate();
  const may = useMay('lens.count');
  const query = useRead<StockCounts>('/stock-counts');
  return (
    <Page title={t('count.title')} lead={t('count.lead')}>
      <Answer query={query}>
        {(counts) => (
          <>
            {may && <Begin places={counts.places} />}
            <Section title={t('count.list')}>
              {counts.items.length === 0 ? (
                <Empty title={t('count.none')}>{t('count.none_hint')}</Empty>
              ) : (
                <ul className="card rows">
                  {counts.items.map((count) => (
                    <Counted key={count.id} of={count} />
                  ))}
                </ul>
              )}
            </Section>
          </>
        )}
      </Answer>
    </Page>
  );
}

function Begin({ places }: { places: StockCounts['places'] }) {
  const t = useTranslate();
  const navigate = useNavigate();
  const { clinics } = useSession();
  const [chosen, choose] = useState({ clinicId: clinics[0]?.id ?? '', location: '' });
  return (
    <div className="card card--padded form count-form">
      <p className="field__label">{t('count.places')}</p>
      <div className="steps">
        {places.map(({ clinicId, clinicName, location, units }) => (
          <button
            key={`${clinicId} ${location}`}
            type="button"
            className="chip"
            aria-pressed={chosen.clinicId === clinicId && chosen.location === location}
            onClick={() => choose({ clinicId, location })}
          >
            {t('count.place', { location, smart_count: units })}
            {clinics.length > 1 && `, ${clinicName}`}
          </button>
        ))}
      </div>
      <ContractForm<StockCountDetail>
        key={`${chosen.clinicId} ${chosen.location}`}
        schema={StartCount}
        path="/stock-counts"
        defaults={chosen}
        onDone={({ id }) => navigate(`/lenses/counts/${id}`)}
        submitLabel={t('count.begin')}
      >
        <ClinicField />
        <TextField name="location" label={t('lens.place')} hint={t('count.place_hint')} />
      </ContractForm>
    </div>
  );
}

function Counted({ of }: { of: StockCount }) {
  const t = useTranslate();
  return (
    <li className="card--padded">
      <p>
        <a className="strong" href={`/lenses/counts/${of.id}`}>
          {of.location}, {of.clinic.name}
        </a>{' '}
        <Pill tone={of.state === 'open' ? 'amber' : 'plain'}>{t(`count.state.${of.state}`)}</Pill>
      </p>
      <p className="muted small">
        {of.openedBy} · <Moment at={of.openedAt} /> ·{' '}
        {t('count.found_of', { found: of.found, expected: of.expected })}
      </p>
    </li>
  );
}
