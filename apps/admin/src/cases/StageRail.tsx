import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { TableWrap } from '../shared/parts/TableWrap';
import { Moment } from '../shared/parts/When';
import { railOf } from './rail';

/** The stages of the case with their dates; at the present one, who is waited for. */
export function StageRail({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const zone = of.clinic.timeZone;
  const by = of.waiting.byName ?? (of.waiting.by && t(`role.${of.waiting.by}`));
  return (
    <nav aria-label={t('case.stages')} className="rail-box">
      {of.round > 1 && (
        <p className="small strong rail__round">
          {t(of.inExchange ? 'case.exchange_round' : 'case.round', { round: of.round })}
        </p>
      )}
      <TableWrap label={t('case.stages')}>
        <ol className="rail">
          {railOf(of).map((stop) => (
            <li
              key={stop.stage}
              className={`rail__stop rail__stop--${stop.place}`}
              aria-current={stop.place === 'now' ? 'step' : undefined}
            >
              <span className={stop.place === 'now' ? 'strong' : undefined}>{t(`stage.${stop.stage}`)}</span>
              {stop.place !== 'ahead' && (
                <span className="muted small">
                  {stop.at && <Moment at={stop.at} zone={zone} />}
                  {stop.place === 'now' && by && (
                    <>
                      <br />
                      {by}
                    </>
                  )}
                  {stop.note && (
                    <>
                      <br />
                      {stop.note}
                    </>
                  )}
                </span>
              )}
            </li>
          ))}
        </ol>
      </TableWrap>
    </nav>
  );
}
