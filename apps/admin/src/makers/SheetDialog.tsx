import { useState } from 'react';
import { useDataProvider, useTranslate } from 'react-admin';
import { ImportSheet, type MakerSummary, type SheetPreview } from '@lensferry/contracts';
import type { LensferryDataProvider } from '../providers/data-provider';
import { ApiProblem } from '../providers/request';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { Dialog } from '../shared/parts/Dialog';
import { When } from '../shared/parts/When';
import { SheetDifferences, SheetFaults } from './SheetTables';

interface Props {
  makerId: string;
  design: { code: string; name: string };
  onClose: () => void;
}

interface Looked {
  file: string;
  name: string;
  preview: SheetPreview;
}

/** Reads an edited sheet of a design: what is wrong with it or what it changes, then from which day. */
export function SheetDialog({ makerId, design, onClose }: Props) {
  const t = useTranslate();
  const data = useDataProvider<LensferryDataProvider>();
  const [looked, setLooked] = useState<Looked | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const path = `/makers/${makerId}/designs/${design.code}/sheet`;
  const look = async (chosen: File | undefined) => {
    setLooked(null);
    setProblem(null);
    if (chosen === undefined) return;
    try {
      const file = await chosen.text();
      const preview = await data.take<SheetPreview>(`${path}-preview`, { file });
      setLooked({ file, name: chosen.name, preview });
    } catch (error) {
      const told = error instanceof ApiProblem ? error.problem?.errors?.[0]?.message : undefined;
      setProblem(told ?? (error instanceof ApiProblem ? error.message : t('common.unreachable')));
    }
  };
  const ready = looked !== null && looked.preview.differences.length > 0;
  return (
    <Dialog
      title={t('maker.sheet.title', { design: design.name })}
      onClose={onClose}
      className="dialog--wide"
    >
      <div className="form">
        <p>{t('maker.sheet.lead')}</p>
        <label className="field">
          <span className="field__label">{t('maker.sheet.file')}</span>
          <input
            type="file"
            accept=".csv,text/csv"
            onClick={(event) => (event.currentTarget.value = '')}
            onChange={(event) => void look(event.target.files?.[0])}
          />
        </label>
        <div role="status" className="form">
          {problem !== null && <p className="note note--brick">{problem}</p>}
          {looked !== null && <Found looked={looked} />}
        </div>
      </div>
      {ready ? (
        <ContractForm<MakerSummary>
          key={looked.preview.newest}
          schema={ImportSheet}
          path={path}
          defaults={{
            file: looked.file,
            newest: looked.preview.newest,
            validFrom: looked.preview.earliest,
          }}
          done="maker.sheet.done"
          submitLabel={t('maker.sheet.keep')}
          onCancel={onClose}
          onDone={onClose}
        >
          <TextField name="validFrom" type="date" label={t('maker.sheet.valid_from')} />
          <p>{t('maker.sheet.consequence')}</p>
        </ContractForm>
      ) : (
        <p className="form__actions">
          <button type="button" className="button" onClick={onClose}>
            {t('maker.sheet.close')}
          </button>
        </p>
      )}
    </Dialog>
  );
}

function Found({ looked: { name, preview } }: { looked: Looked }) {
  const t = useTranslate();
  const { faults, differences, newest, newestValidFrom } = preview;
  if (faults.length > 0)
    return (
      <>
        <p className="note note--brick">{t('maker.sheet.faults', { smart_count: faults.length, name })}</p>
        <SheetFaults faults={faults} />
      </>
    );
  return (
    <>
      <p className={differences.length > 0 ? 'strong' : 'note note--moss'}>
        {differences.length > 0
          ? t('maker.sheet.changes', { smart_count: differences.length, name })
          : t('maker.sheet.unchanged', { name })}
      </p>
      <p className="muted">
        {t('maker.sheet.compared', { version: newest })} <When date={newestValidFrom} />
      </p>
      {differences.length > 0 && <SheetDifferences differences={differences} />}
    </>
  );
}
