import { useTranslate } from 'react-admin';
import { useFormContext, useWatch } from 'react-hook-form';
import { AddDesign, type MakerSummary } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { useToday } from '../shared/format/use-format';
import { Dialog } from '../shared/parts/Dialog';

/** A design from nothing: its names, a file to fill in, and the file as it was filled in. */
export function AddDesignDialog({ maker, onClose }: { maker: MakerSummary; onClose: () => void }) {
  const t = useTranslate();
  const today = useToday();
  return (
    <Dialog title={t('maker.design.add')} onClose={onClose} className="dialog--wide">
      <ContractForm<MakerSummary>
        schema={AddDesign}
        path={`/makers/${maker.id}/designs`}
        defaults={{ validFrom: today }}
        done="maker.design.done"
        submitLabel={t('maker.design.add')}
        onCancel={onClose}
        onDone={onClose}
      >
        <TextField name="name" label={t('maker.design.name')} autoFocus />
        <TextField name="code" label={t('maker.design.code')} hint={t('maker.add.code_hint')} mono />
        <SheetFile makerId={maker.id} />
        <TextField name="validFrom" type="date" label={t('maker.sheet.valid_from')} />
        <p>{t('maker.design.consequence')}</p>
      </ContractForm>
    </Dialog>
  );
}

function SheetFile({ makerId }: { makerId: string }) {
  const t = useTranslate();
  const form = useFormContext();
  const code = String(useWatch({ name: 'code' }) ?? '').trim();
  const { error } = form.getFieldState('file', form.formState);
  return (
    <>
      {AddDesign.shape.code.safeParse(code).success ? (
        <a className="button" href={`/api/makers/${makerId}/new-design.csv?code=${encodeURIComponent(code)}`}>
          {t('maker.design.template')}
        </a>
      ) : (
        <p className="muted">{t('maker.design.template_after')}</p>
      )}
      <label className="field">
        <span className="field__label">{t('maker.design.file')}</span>
        <input
          type="file"
          accept=".csv,text/csv"
          aria-invalid={error !== undefined}
          onChange={(event) => {
            const chosen = event.target.files?.[0];
            void (chosen?.text() ?? Promise.resolve('')).then((text) =>
              form.setValue('file', text, { shouldValidate: true }),
            );
          }}
        />
        {error && <span className="field__wrong">{error.message}</span>}
      </label>
    </>
  );
}
