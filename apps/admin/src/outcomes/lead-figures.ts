import type { MakerScorecard } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import type { Say } from './say';

/** How long a maker's orders took, with the band of the estimate and the forecast for the next order. */
export function leadFigures(say: Say, { id, name, leadTimes, sentFrom, sentTo }: MakerScorecard): Figure[] {
  if (leadTimes === null || sentFrom === null || sentTo === null) return [];
  const { t, format } = say;
  const { curve, forecast } = leadTimes;
  const forecastAt = (day: number): number =>
    forecast.points.find((point) => point.day === day)?.arrived ?? 1;
  const days = (value: number | null): string =>
    value === null ? t('outcome.lead_not_yet') : format.whole(value);
  return [
    {
      id: `lead-${id}`,
      name: t('outcome.figure.lead', { maker: name }),
      finding:
        curve.arrivals === 0
          ? t('outcome.finding.lead_none', { smart_count: curve.orders })
          : t('outcome.finding.lead', {
              half: days(curve.medianDays),
              most: days(curve.ninetyPercentDays),
            }),
      basis: t('outcome.lead_basis', {
        smart_count: curve.orders,
        open: format.whole(curve.open),
        from: format.date.withYear(sentFrom),
        to: format.date.withYear(sentTo),
      }),
      notes: [t('outcome.note.lead', { quoted: format.whole(forecast.quotedWorkingDays) })],
      model: {
        kind: 'curve',
        steps: curve.steps.map(({ day, arrived, low, high }) => ({ at: day, share: arrived, low, high })),
        forecast: forecast.points.map(({ day, arrived }) => ({ at: day, share: arrived })),
        series: [t('outcome.series.arrived'), t('outcome.series.forecast')],
        xLabel: t('outcome.axis.working_days'),
        yLabel: t('outcome.axis.arrived'),
      },
      table: {
        head: [
          t('outcome.head.working_day'),
          t('outcome.head.at_risk'),
          t('outcome.head.arrived'),
          t('outcome.head.limits'),
          t('outcome.head.forecast'),
        ],
        rows: curve.steps.map(({ day, atRisk, arrived, low, high }) => [
          format.whole(day),
          format.whole(atRisk),
          format.percent(arrived),
          `${format.percent(low)} – ${format.percent(high)}`,
          format.percent(forecastAt(day)),
        ]),
      },
    },
  ];
}
