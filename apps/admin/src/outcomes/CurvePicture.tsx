import { AlongAxis, FootLabel, Hatch, UpAxis } from './Axes';
import type { CurveModel } from './figure-model';
import { alongScale, BOX, upScale } from './scales';

interface Props {
  id: string;
  model: CurveModel;
  share: (share: number) => string;
  number: (value: number) => string;
}

/** A share that grows in steps, its limits hatched, beside a forecast in dashes. */
export function CurvePicture({ id, model, share, number }: Props) {
  const { steps, forecast, series } = model;
  const last = Math.max(1, ...steps.map(({ at }) => at), ...forecast.map(({ at }) => at));
  const x = alongScale([0, last]);
  const y = upScale([1], true);
  const all = [{ at: 0, share: 0, low: 0, high: 0 }, ...steps];
  const end = Math.max(last, steps.at(-1)?.at ?? 0);
  /** Each step holds until the next. */
  const along = (value: (step: (typeof all)[number]) => number): string[] =>
    all.flatMap((step, i) => {
      const until = all[i + 1]?.at ?? end;
      return [`${x(step.at)} ${y(value(step))}`, `${x(until)} ${y(value(step))}`];
    });
  const band = [...along(({ high }) => high), ...along(({ low }) => low).reverse()];
  return (
    <>
      <Hatch id={`${id}-hatch`} />
      {steps.length > 0 && <path data-mark="limits" d={`M${band.join('L')}Z`} fill={`url(#${id}-hatch)`} />}
      <UpAxis y={y} label={model.yLabel} say={share} />
      <AlongAxis x={x} say={number} />
      {steps.length > 0 && (
        <path
          data-mark="arrived"
          d={`M${along((step) => step.share).join('L')}`}
          stroke="var(--ink)"
          strokeWidth="2"
          fill="none"
        />
      )}
      <path
        data-mark="forecast"
        d={`M${forecast.map((point) => `${x(point.at)} ${y(point.share)}`).join('L')}`}
        stroke="var(--ink)"
        strokeWidth="1.6"
        strokeDasharray="5 4"
        fill="none"
      />
      <g transform={`translate(${BOX.left} ${BOX.height - 28})`} fontSize="11.5" fill="var(--ink)">
        <path d="M0 -4h18" stroke="var(--ink)" strokeWidth="2" />
        <text x="24">{series[0]}</text>
        <path d="M200 -4h18" stroke="var(--ink)" strokeWidth="1.6" strokeDasharray="5 4" />
        <text x="224">{series[1]}</text>
      </g>
      <FootLabel>{model.xLabel}</FootLabel>
    </>
  );
}
