import { useTranslate } from 'react-admin';
import type { CaseDetail, VaultCheck } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';

type Rotation = NonNullable<CaseDetail['rotation']>;

/** What a vault seen after the operation means, in sentences. */
export function useTellVault(): (check: VaultCheck) => string {
  const t = useTranslate();
  const format = useFormat();
  return ({ vaultUm, band, reasons, limits, daysAfterSurgery }) => {
    const { lowBelowUm, highAboveUm, settledFromDay } = limits;
    const facts = {
      vault: format.um(vaultUm),
      range: format.umRange(lowBelowUm, highAboveUm),
      low: format.um(lowBelowUm),
      high: format.um(highAboveUm),
      day: daysAfterSurgery ?? 0,
      settled: settledFromDay,
    };
    // An alert is said after the band that it lies in.
    return reasons
      .flatMap((code) => (code.endsWith('.alert') ? [`vault.${band}`, code] : [code]))
      .map((code) => t(`judged.${code}`, facts))
      .join(' ');
  };
}

/** What the lens's axis asks for, in a sentence. */
export function useTellRotation(): (advice: Rotation) => string {
  const t = useTranslate();
  const format = useFormat();
  return ({ verdict, turnDeg, remaining }) =>
    t(`judged.rotation.${verdict}`, {
      turn: format.withUnit(Math.round(Math.abs(turnDeg) * 10) / 10, '°'),
      way: t(turnDeg > 0 ? 'judged.counter_clockwise' : 'judged.clockwise'),
      cylinder: format.dioptres(-Math.abs(remaining.cylinderD)),
      equivalent: format.dioptres(remaining.sphereD + remaining.cylinderD / 2),
    });
}
