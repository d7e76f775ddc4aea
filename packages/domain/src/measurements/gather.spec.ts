import { describe, expect, it } from 'vitest';
import { gatherEye, ownMeasurements, type MeasurementFacts } from './gather.js';

const on = (
  id: string,
  kind: MeasurementFacts['kind'],
  takenOn: string,
  values: MeasurementFacts['values'],
  hour = 8,
): MeasurementFacts => ({
  id,
  kind,
  takenOn,
  recordedAt: `${takenOn}T${String(hour).padStart(2, '0')}:00:00.000Z`,
  values,
});

const before = [
  on('r', 'refraction', '2026-03-01', { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 }),
  on('k', 'keratometry', '2026-03-01', { flatD: 46, steepD: 50, steepAxisDeg: 120, index: '1.3375' }),
  on('c', 'chamber', '2026-03-01', { depthMm: 3.6, from: 'epithelium', cornealThicknessUm: 480 }),
  on('d', 'dimensions', '2026-03-01', { sulcusMm: 11.6 }),
];
const surgery = { performedOn: '2026-05-04', recordedAt: '2026-05-04T12:00:00.000Z' };

describe('gathering what a plan rests on', () => {
  it('takes the cornea off a depth that is said from the epithelium, and leaves one from the endothelium', () => {
    expect(gatherEye(before, null).eye?.depthFromEndotheliumMm).toBe(3.12);
    const endothelium = on('c2', 'chamber', '2026-03-02', {
      depthMm: 3.1,
      from: 'endothelium',
      cornealThicknessUm: 480,
    });
    expect(gatherEye([...before, endothelium], null).eye?.depthFromEndotheliumMm).toBe(3.1);
  });

  it('names what is missing', () => {
    expect(gatherEye(before.slice(0, 1), null).missing).toEqual(['keratometry', 'chamber', 'dimensions']);
  });

  it('takes the latest refraction and averages nothing', () => {
    const later = on('r2', 'refraction', '2026-03-20', {
      sphereD: -7,
      cylinderD: -3,
      axisDeg: 40,
      vertexMm: 12,
    });
    expect(gatherEye([...before, later], null).eye?.refraction.sphereD).toBe(-7);
  });

  it('never takes a refraction from behind a lens, not even one of the day of surgery', () => {
    const left = { sphereD: 0.25, cylinderD: -0.5, axisDeg: 100, vertexMm: 12 };
    const sameDay = on('after', 'refraction', '2026-05-04', left, 15);
    const later = on('later', 'refraction', '2026-06-04', left);
    const lateEntry = {
      ...on('late', 'refraction', '2026-04-30', left),
      recordedAt: '2026-05-05T08:00:00.000Z',
    };
    const all = [...before, sameDay, later, lateEntry];
    expect(gatherEye(all, surgery).eye?.refraction.sphereD).toBe(-8);
    expect(ownMeasurements(all, surgery).map(({ id }) => id)).toEqual(['r', 'k', 'c', 'd']);
  });

  it('takes what was measured and entered on the morning of surgery', () => {
    const morning = on(
      'm',
      'refraction',
      '2026-05-04',
      { sphereD: -8.25, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
      7,
    );
    expect(gatherEye([...before, morning], surgery).eye?.refraction.sphereD).toBe(-8.25);
  });
});
