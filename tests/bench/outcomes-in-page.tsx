/** What runs in the page: draws every figure of a report by the admin's own code and says how long it took. */
import { flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import type { OutcomeReport } from '../../packages/contracts/src/index.js';
import { figures as registry, reportParts } from '../../apps/admin/src/outcomes/figure-registry';
import { FigurePicture } from '../../apps/admin/src/outcomes/FigurePicture';
import { dateFormatOf } from '../../apps/admin/src/shared/format/dates';
import { numberFormatOf } from '../../apps/admin/src/shared/format/numbers';

const format = { ...numberFormatOf('en'), date: dateFormatOf('en') };
const say = { t: (key: string) => key, format };
const says = { share: format.percent, number: format.plain };
const twoFrames = () =>
  new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(undefined))));

Object.assign(globalThis, {
  /** Milliseconds from the report to the last figure on screen, for all and for the slowest one alone. */
  async drawReport(report: OutcomeReport) {
    const place = document.body.appendChild(document.createElement('div'));
    const root = createRoot(place);
    const started = performance.now();
    const figures = reportParts.flatMap((part) => registry[part](say, report));
    const each: { id: string; ms: number }[] = [];
    for (const figure of figures) {
      const one = document.body.appendChild(document.createElement('div'));
      const from = performance.now();
      const alone = createRoot(one);
      flushSync(() => alone.render(<FigurePicture figure={figure} says={says} />));
      one.getBoundingClientRect();
      await twoFrames();
      each.push({ id: figure.id, ms: performance.now() - from });
      alone.unmount();
      one.remove();
    }
    const modelMs = performance.now();
    flushSync(() =>
      root.render(
        <>
          {figures.map((figure) => (
            <FigurePicture key={figure.id} figure={figure} says={says} />
          ))}
        </>,
      ),
    );
    place.getBoundingClientRect();
    await twoFrames();
    const allMs = performance.now() - modelMs;
    const count = place.querySelectorAll('svg').length;
    root.unmount();
    place.remove();
    return { allMs, count, each, startedMs: started };
  },
});
