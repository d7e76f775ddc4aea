import { useState, type FormEvent, type ReactNode } from 'react';
import { useTranslate } from 'react-admin';
import { ApiProblem } from '../providers/request';
import './people.css';

interface Props {
  label: string;
  done?: string;
  act: (form: FormData) => Promise<void>;
  children?: ReactNode;
}

/** A short form of the account: it says what the server refused, or that it is done. */
export function PlainForm({ label, done, act, children }: Props) {
  const t = useTranslate();
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<string | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    setBusy(true);
    setWrong(null);
    setSaid(null);
    try {
      await act(new FormData(form));
      form.reset();
      setSaid(done ?? null);
    } catch (error) {
      setWrong(
        error instanceof ApiProblem
          ? (error.problem?.errors?.[0]?.message ?? error.message)
          : t('common.failed'),
      );
    } finally {
      setBusy(false);
    }
  };
  return (
    <form className="form card card--padded person-form" onSubmit={(event) => void submit(event)}>
      {children}
      <p className="field__wrong" role="alert">
        {wrong}
      </p>
      {said && <p role="status">{said}</p>}
      <button className="button" disabled={busy}>
        {label}
      </button>
    </form>
  );
}
