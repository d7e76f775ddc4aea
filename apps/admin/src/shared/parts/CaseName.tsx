import { useTranslate } from 'react-admin';
import type { Eye } from '@lensferry/domain';

export interface NamedCase {
  id: string;
  codeName: string;
  eye: Eye;
}

/** `Bracken 22 · right eye`, leading to the case. */
export function CaseName({ of, link = true }: { of: NamedCase; link?: boolean }) {
  const t = useTranslate();
  const name = `${of.codeName} · ${t(`eye.${of.eye}`)}`;
  return link ? (
    <a className="case-name" href={`/cases/${of.id}`}>
      {name}
    </a>
  ) : (
    <span className="case-name">{name}</span>
  );
}
