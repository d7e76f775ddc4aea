import { describe, expect, it } from 'vitest';
import { railOf } from './rail';

const at = (day: string) => `2026-${day}T08:00:00.000Z`;

describe('the stage rail', () => {
  it('shows what is done with its date, the present stage, and what lies ahead', () => {
    const rail = railOf({
      stage: 'awaiting_approval',
      stages: [
        { stage: 'assessing', at: at('03-03'), note: null },
        { stage: 'planning', at: at('11-20'), note: null },
        { stage: 'awaiting_approval', at: at('11-25'), note: null },
      ],
    });
    expect(rail.map(({ stage, place }) => `${stage} ${place}`)).toEqual([
      'assessing done',
      'planning done',
      'awaiting_approval now',
      'on_order ahead',
      'lens_here ahead',
      'implanted ahead',
      'follow_up ahead',
      'closed ahead',
    ]);
  });

  it('shows the second round of an exchange as stages ahead again', () => {
    const rail = railOf({
      stage: 'planning',
      stages: [
        { stage: 'assessing', at: at('01-03'), note: null },
        { stage: 'planning', at: at('01-20'), note: null },
        { stage: 'implanted', at: at('06-25'), note: null },
        { stage: 'planning', at: at('08-01'), note: 'exchange' },
      ],
    });
    expect(rail.find(({ stage }) => stage === 'planning')).toMatchObject({ place: 'now', at: at('08-01') });
    expect(rail.find(({ stage }) => stage === 'implanted')).toMatchObject({ place: 'ahead', at: null });
  });

  it('dates each stage by the way to the present one, not by a later pass through it', () => {
    const rail = railOf({
      stage: 'implanted',
      stages: [
        { stage: 'planning', at: at('01-20'), note: null },
        { stage: 'on_order', at: at('02-01'), note: null },
        { stage: 'planning', at: at('06-01'), note: null },
        { stage: 'implanted', at: at('06-02'), note: null },
      ],
    });
    expect(rail.map(({ stage, at: day }) => `${stage} ${day?.slice(5, 10)}`).slice(0, 3)).toEqual([
      'planning 01-20',
      'on_order 02-01',
      'implanted 06-02',
    ]);
  });

  it('ends where a case was withdrawn', () => {
    const rail = railOf({
      stage: 'withdrawn',
      stages: [
        { stage: 'assessing', at: at('01-03'), note: null },
        { stage: 'withdrawn', at: at('02-03'), note: 'chose otherwise' },
      ],
    });
    expect(rail.map(({ stage }) => stage)).toEqual(['assessing', 'withdrawn']);
  });
});
