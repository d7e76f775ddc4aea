/** ml-matrix and mathjs behind the few words that the plan needs. */
import * as math from 'mathjs';
import { inverse, Matrix } from 'ml-matrix';

export const libraries = {
  'ml-matrix': {
    identity: Matrix.eye(2, 2),
    matrix: (rows) => new Matrix(rows),
    plus: (a, b) => Matrix.add(a, b),
    minus: (a, b) => Matrix.sub(a, b),
    scaled: (a, by) => Matrix.mul(a, by),
    times: (a, b) => a.mmul(b),
    inverse: (a) => inverse(a),
    entries: (a) => [a.get(0, 0), (a.get(0, 1) + a.get(1, 0)) / 2, a.get(1, 1)],
  },
  mathjs: {
    identity: math.identity(2, 2, 'dense'),
    matrix: (rows) => math.matrix(rows),
    plus: (a, b) => math.add(a, b),
    minus: (a, b) => math.subtract(a, b),
    scaled: (a, by) => math.multiply(a, by),
    times: (a, b) => math.multiply(a, b),
    inverse: (a) => math.inv(a),
    entries: (a) => [a.get([0, 0]), (a.get([0, 1]) + a.get([1, 0])) / 2, a.get([1, 1])],
  },
};
