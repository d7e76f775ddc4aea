/**
 * The plan of one eye as somebody would write it with a general matrix library: the ideal lens and what
 * the nearest lens that can be ordered leaves. `library` brings matrix, plus, minus, times, inverse and
 * entries; going between sphero-cylinder and matrix is plain arithmetic for all of them, in their favour.
 */
import { orderable } from './calculation-eyes.mjs';

const INDEX = 1.336;

export function planWith(library, eye) {
  const { plus, minus } = library;
  const vertex = eye.refraction.vertexMm / 1000;
  const depth =
    (eye.anteriorChamberDepthMm + eye.cornealThicknessUm / 1000 - eye.lensPlaneOffsetMm) / 1000 / INDEX;
  const cornea = corneaOf(library, eye.keratometry);
  const atLens = (refraction) =>
    step(library, plus(cornea, step(library, powerOf(library, refraction), vertex)), depth);
  const needed = atLens(eye.refraction);
  const ideal = sphereCylinderOf(library, minus(needed, atLens(eye.target)));
  const lens = orderable(ideal);
  const through = step(library, minus(needed, powerOf(library, lens)), -depth);
  const left = sphereCylinderOf(library, step(library, minus(through, cornea), -vertex));
  return { ideal, left };
}

/** V (I - aV)⁻¹ */
function step({ identity, minus, scaled, inverse, times }, power, a) {
  return times(power, inverse(minus(identity, scaled(power, a))));
}

function corneaOf(library, { flatD, steepD, steepAxisDeg, index }) {
  const factor = (4 / 3 - 1) / (index - 1);
  return powerOf(library, {
    sphereD: steepD * factor,
    cylinderD: (flatD - steepD) * factor,
    axisDeg: steepAxisDeg,
  });
}

function powerOf({ matrix }, { sphereD, cylinderD, axisDeg }) {
  const sin = Math.sin((axisDeg * Math.PI) / 180);
  const cos = Math.cos((axisDeg * Math.PI) / 180);
  const cross = -cylinderD * sin * cos;
  return matrix([
    [sphereD + cylinderD * sin * sin, cross],
    [cross, sphereD + cylinderD * cos * cos],
  ]);
}

function sphereCylinderOf({ entries }, power) {
  const [xx, xy, yy] = entries(power);
  const half = Math.hypot((xx - yy) / 2, xy);
  const axis = (Math.atan2(xy, (xx - yy) / 2) * 90) / Math.PI;
  return {
    sphereD: (xx + yy) / 2 + half,
    cylinderD: -2 * half,
    axisDeg: axis < 0 ? axis + 180 : axis,
  };
}
