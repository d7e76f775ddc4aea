import { line } from 'd3-shape';
import { FootLabel, UpAxis } from './Axes';
import type { CourseModel } from './figure-model';
import { groupScale, INNER, strokesPath, upScale } from './scales';

interface Props {
  model: CourseModel;
  say: (value: number) => string;
}

/** Means at each visit with their limits, joined in the order of time. */
export function CoursePicture({ model, say }: Props) {
  const { steps } = model;
  const y = upScale(
    steps.flatMap(({ mean, low, high }) => [mean, low ?? mean, high ?? mean]),
    true,
  );
  const place = groupScale(steps.length);
  const at = (i: number) => (place(i) ?? 0) + place.bandwidth() / 2;
  const limits = steps.flatMap(({ low, high }, i) =>
    low === null || high === null ? [] : [{ x: at(i), from: y(low), to: y(high) }],
  );
  const path = line<CourseModel['steps'][number]>()
    .x((_, i) => at(i))
    .y(({ mean }) => y(mean));
  return (
    <>
      <UpAxis y={y} label={model.yLabel} say={say} />
      <path data-mark="course" d={path(steps) ?? ''} stroke="var(--sea)" strokeWidth="1.5" fill="none" />
      <path data-mark="limits" d={strokesPath(limits)} stroke="var(--ink)" strokeWidth="1.6" fill="none" />
      {steps.map(({ label, n, mean }, i) => (
        <g key={label}>
          <circle data-mark="mean" cx={at(i)} cy={y(mean)} r="4" fill="var(--sea)" />
          <text x={at(i)} y={INNER.bottom + 15} textAnchor="middle" fontSize="10.5" fill="var(--ink)">
            {label}
          </text>
          <text x={at(i)} y={INNER.bottom + 28} textAnchor="middle" fontSize="10.5" fill="var(--muted)">
            {n}
          </text>
        </g>
      ))}
      <FootLabel>{model.xLabel}</FootLabel>
    </>
  );
}
