import { useTranslate } from 'react-admin';
import type { CountFinding } from '@lensferry/contracts';
import { Empty } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { TableWrap } from '../shared/parts/TableWrap';

/** What a count finds amiss so far, or what it found and what explained it. */
export function CountFindings({
  findings,
  running,
}: {
  findings: readonly CountFinding[];
  running: boolean;
}) {
  const t = useTranslate();
  if (findings.length === 0) return <Empty title={t('count.all_there')} />;
  return (
    <Section title={t(running ? 'count.amiss_so_far' : 'count.was_amiss')}>
      <TableWrap label={t('count.amiss_so_far')}>
        <table className="table table--stack">
          <thead>
            <tr>
              <th>{t('lens.serial')}</th>
              <th>{t('count.what')}</th>
              <th>{t('count.on_record')}</th>
              {!running && <th>{t('count.explained')}</th>}
            </tr>
          </thead>
          <tbody>
            {findings.map((finding) => (
              <tr key={finding.serial}>
                <th scope="row">
                  {finding.lensId ? (
                    <a className="mono" href={`/lenses/${finding.lensId}`}>
                      {finding.serial}
                    </a>
                  ) : (
                    <span className="mono">{finding.serial}</span>
                  )}
                </th>
                <td>{t(`count.kind.${finding.kind}`)}</td>
                <td>
                  <OnRecord of={finding} />
                </td>
                {!running && (
                  <td>
                    {finding.explanation && t(`count.explanation.${finding.explanation}`)}
                    {finding.why && <p className="muted small">{finding.why}</p>}
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </TableWrap>
    </Section>
  );
}

/** How the record has a unit: its state, its place, and the eye that it is for. */
export function OnRecord({ of }: { of: CountFinding }) {
  const t = useTranslate();
  if (of.state === null) return <>{t('count.no_record')}</>;
  return (
    <>
      {t(`lens.state.${of.state}`)}
      {of.location && `, ${of.location}`}
      {of.codeName && ` · ${of.codeName}`}
    </>
  );
}
