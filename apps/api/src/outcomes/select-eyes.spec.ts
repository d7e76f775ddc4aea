import { describe, expect, it } from 'vitest';
import type { OperatedEye } from './operated-eyes.queries.js';
import { choicesOf, selectEyes } from './select-eyes.js';
import { minimumDaysOf } from './show-report.js';

const eye = (caseId: string, more: Partial<OperatedEye>): OperatedEye =>
  ({
    caseId,
    clinic: { id: 'a', name: 'Aye', timeZone: 'UTC' },
    surgeon: { id: 's', name: 'Ess' },
    maker: { id: 'm', name: 'Em' },
    design: { code: 'D', name: 'Dee' },
    cylinderClass: 'below4',
    cone: null,
    procedures: [],
    ...more,
  }) as OperatedEye;
const eyes = [
  eye('1', { cone: 'central', procedures: ['cross_linking', 'ring_segments'] }),
  eye('2', { cylinderClass: 'from4', procedures: ['cross_linking'] }),
  eye('3', { clinic: { id: 'b', name: 'Bee', timeZone: 'UTC' } }),
];
const ids = (query: object) => selectEyes(eyes, { minimumMonths: 0, ...query }).map(({ caseId }) => caseId);

describe('the eyes that a report is of', () => {
  it('are all of them when nothing is asked for', () => expect(ids({})).toEqual(['1', '2', '3']));

  it('are those that fit everything that is asked for', () => {
    expect(ids({ clinicId: 'a', cylinder: 'below4' })).toEqual(['1']);
    expect(ids({ procedure: 'cross_linking' })).toEqual(['1', '2']);
  });

  it('leave out an eye whose cone was not measured when a place of the cone is asked for', () => {
    expect(ids({ cone: 'central' })).toEqual(['1']);
    expect(ids({ cone: 'decentred' })).toEqual([]);
  });

  it('are offered by name with how many there are, an eye under each of its procedures', () => {
    expect(choicesOf(eyes, 'clinic')).toEqual([
      { value: 'a', label: 'Aye', n: 2 },
      { value: 'b', label: 'Bee', n: 1 },
    ]);
    expect(choicesOf(eyes, 'procedure').map(({ n }) => n)).toEqual([2, 1]);
  });
});

describe('least follow-up', () => {
  it('begins a little early, because visits rarely fall on the last day', () => {
    expect([0, 1, 12, 24].map(minimumDaysOf)).toEqual([0, 28, 352, 717]);
  });
});
