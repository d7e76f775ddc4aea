import { useTranslate } from 'react-admin';
import { get, type FieldValues } from 'react-hook-form';
import { useNavigate } from 'react-router-dom';
import { SignOrder, type OrderDetail } from '@lensferry/contracts';
import { useSession } from '../providers/session';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { SignatureField } from '../shared/forms/SignatureField';
import { useTellFinding } from '../shared/format/use-tell-finding';
import { Pill } from '../shared/parts/Pill';
import { SpecificationText } from './SpecificationText';

/** The signature: exactly what was shown, the password once more, and a reason for going on over each stop. */
export function SignForm({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const tell = useTellFinding();
  const navigate = useNavigate();
  const { person } = useSession();
  // A stop's code has points in it, which a form takes for a path; the contract wants the code as it is.
  const shape = (values: FieldValues) => ({
    ...values,
    reasons: Object.fromEntries(
      order.stops.map(({ code }) => [code, get(values, `reasons.${code}`) as unknown]),
    ),
  });
  const { change } = order;
  const changing = order.steps.includes('sign-change') && change?.specification;
  const hash = changing ? (change.specificationHash ?? '') : order.specificationHash;
  const shown = changing
    ? { ...order, specification: change.specification ?? order.specification, specificationHash: hash }
    : order;
  return (
    <section className="card card--padded next order__side" aria-labelledby="sign-form">
      <h2 id="sign-form">{t(changing ? 'step.order.sign-change' : 'step.order.sign')}</h2>
      <p className="muted">{t(changing ? 'next.order.sign-change' : 'next.order.sign')}</p>
      <SpecificationText order={shown} big />
      <p className="muted small mono wraps" title={t('sign.hash')}>
        {hash.slice(0, 16)}…
      </p>
      <ContractForm<OrderDetail>
        schema={SignOrder}
        path={`/orders/${order.id}/${changing ? 'sign-change' : 'sign'}`}
        defaults={{ version: order.version, specificationHash: hash, password: '' }}
        shape={shape}
        answers="orders"
        done={changing ? 'sign.change_done' : 'sign.done'}
        onDone={() => navigate(`/cases/${order.case.id}`)}
        wide
        submitLabel={t('sign.as', { name: person.name })}
      >
        {order.stops.map((stop) => (
          <div key={stop.code} className="note note--brick form">
            <p>
              <Pill tone="brick">{t('level.stop')}</Pill> {tell(stop)}
            </p>
            <TextField name={`reasons.${stop.code}`} label={t('sign.why_over')} long />
          </div>
        ))}
        <SignatureField />
      </ContractForm>
      {order.steps.includes('request-changes') && (
        <a className="button button--wide" href={`/orders/${order.id}?do=request-changes`}>
          {t('step.order.request-changes')}
        </a>
      )}
    </section>
  );
}
