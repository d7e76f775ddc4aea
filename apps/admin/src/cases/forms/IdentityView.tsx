import { useState } from 'react';
import { useTranslate } from 'react-admin';
import type { PatientIdentity } from '@lensferry/contracts';
import type { z } from 'zod';
import { useRead } from '../../providers/use-read';
import { Answer } from '../../shared/parts/Answer';
import { useFormat, useToday } from '../../shared/format/use-format';
import type { CaseFormProps } from '../CaseDialogs';

/** The sealed identity: opened on purpose, and the look goes on record. */
export default function IdentityView({ of, close }: CaseFormProps) {
  const t = useTranslate();
  const [open, setOpen] = useState(false);
  return (
    <div className="form">
      {open ? <Opened id={of.id} /> : <p>{t('identity.warning')}</p>}
      <div className="form__actions">
        {!open && (
          <button type="button" className="button button--filled" onClick={() => setOpen(true)}>
            {t('identity.open')}
          </button>
        )}
        <button type="button" className="button" onClick={close}>
          {t('common.close')}
        </button>
      </div>
    </div>
  );
}

function Opened({ id }: { id: string }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const query = useRead<z.infer<typeof PatientIdentity>>(`/cases/${id}/identity`);
  return (
    <Answer query={query}>
      {(identity) => (
        <dl className="facts">
          <dt>{t('identity.name')}</dt>
          <dd>
            <bdi>{identity.name}</bdi>
          </dd>
          <dt>{t('identity.birth_date')}</dt>
          <dd>{format.date.day(identity.birthDate, today)}</dd>
          <dt>{t('identity.record_number')}</dt>
          <dd className="mono">{identity.recordNumber}</dd>
        </dl>
      )}
    </Answer>
  );
}
