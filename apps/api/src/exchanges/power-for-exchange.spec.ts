import { idealLens, predictedRefraction } from '@lensferry/calculation';
import { describe, expect, it } from 'vitest';
import type { CaseRow } from '../cases/cases.store.js';
import { powerForExchange } from './power-for-exchange.js';

const eye = {
  measurementIds: ['r'],
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 120, index: null },
  depthFromEndotheliumMm: 3.12,
  cornealThicknessUm: 480,
  kmaxD: null,
  coneDistanceMm: null,
  coneDirectionDeg: null,
  whiteToWhiteMm: null,
  sulcusMm: 11.6,
  verticalSulcusMm: null,
  angleToAngleMm: null,
  lensRiseUm: null,
  lensThicknessMm: null,
};
const phakic = {
  refraction: eye.refraction,
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 120 },
  anteriorChamberDepthMm: 3.12,
  cornealThicknessUm: 480,
};
const lens = { sphereD: -8, cylinderD: -4, axisDeg: 30 };
const offsets = new Map([['D1', 0.6]]);

function rowWith(measurements: { kind: string; values: object }[]): CaseRow {
  return {
    orders: [{ id: 'o', specification: { designCode: 'D1', ...lens } }],
    implantations: [
      {
        lensId: 'l',
        explantedOn: null,
        axisDeg: 30,
        performedOn: new Date('2026-05-04'),
        recordedAt: new Date('2026-05-04T12:00:00Z'),
        lens: { orderId: 'o' },
      },
    ],
    measurements: measurements.map((measurement, i) => ({
      id: `m${i}`,
      takenOn: new Date('2026-06-04'),
      recordedAt: new Date('2026-06-04T09:00:00Z'),
      corrects: null,
      ...measurement,
    })),
  } as unknown as CaseRow;
}

describe('the power of a replacement', () => {
  it('stays what was signed when the vault is the reason, whatever was refracted behind the lens', () => {
    const left = { kind: 'refraction', values: { sphereD: 0.5, cylinderD: -1, axisDeg: 90, vertexMm: 12 } };
    const power = powerForExchange(rowWith([left]), eye, 'vault_high', offsets);
    expect(power).toMatchObject({ keep: { designCode: 'D1', ...lens }, eye, finding: { level: 'fine' } });
  });

  it('is planned from what the lens leaves when the refraction is the reason, and finds the eye that needs it', () => {
    // What this too weak lens leaves in the eye, as it would be refracted; the plan must come back to the eye's need.
    const left = { kind: 'refraction', values: { ...predictedRefraction(phakic, lens), vertexMm: 12 } };
    const power = powerForExchange(rowWith([left]), eye, 'refractive', offsets);
    expect(power?.keep).toBeNull();
    const needed = idealLens({
      ...phakic,
      refraction: { ...power!.eye.refraction, axisDeg: power!.eye.refraction.axisDeg ?? 0 },
    });
    const ideal = idealLens(phakic);
    expect(needed.sphereD).toBeCloseTo(ideal.sphereD, 6);
    expect(needed.cylinderD).toBeCloseTo(ideal.cylinderD, 6);
    expect(needed.axisDeg).toBeCloseTo(ideal.axisDeg, 6);
  });

  it('keeps the power and says why while nobody has refracted behind the lens', () => {
    expect(powerForExchange(rowWith([]), eye, 'refractive', offsets)).toMatchObject({
      keep: lens,
      finding: { level: 'caution' },
    });
  });
});
