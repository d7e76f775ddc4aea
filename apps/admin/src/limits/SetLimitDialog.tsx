import { useTranslate } from 'react-admin';
import { limits } from '@lensferry/domain';
import { SetLimit, type LimitNow, type NetworkLimits } from '@lensferry/contracts';
import { NumberField, TextField } from '../shared/forms/fields';
import { SignatureField } from '../shared/forms/SignatureField';
import { StepDialog } from '../shared/forms/StepDialog';
import { useTellLimit } from './tell-limit';

/** A surgeon sets a limit: what it is, what it becomes, why, and the password that signs it. */
export function SetLimitDialog({ limit, onClose }: { limit: LimitNow; onClose: () => void }) {
  const t = useTranslate();
  const tell = useTellLimit();
  const { key, value } = limit;
  const { unit, least, most } = limits[key];
  return (
    <StepDialog<NetworkLimits & { id: string }>
      title={t('limit.set_of', { name: t(`limit.name.${key}`) })}
      consequence={t('limit.consequence')}
      schema={SetLimit}
      path="/limits"
      defaults={{ key, was: value, value: Number(value.toFixed(3)), why: '', password: '' }}
      done="limit.done"
      onClose={onClose}
    >
      <NumberField
        name="value"
        label={t('limit.value')}
        unit={t(`limit.unit.${unit}`)}
        hint={t('limit.range', { now: tell(key, value), least: tell(key, least), most: tell(key, most) })}
      />
      <TextField name="why" label={t('common.why')} long />
      <SignatureField />
    </StepDialog>
  );
}
