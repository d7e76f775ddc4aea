/**
 * The lower triangle L of a symmetric positive definite matrix, L Lᵀ = matrix; null when it is not one.
 * The matrix is not changed. Throws nothing.
 */
export function cholesky(matrix: readonly (readonly number[])[]): number[][] | null {
  const lower: number[][] = [];
  for (let i = 0; i < matrix.length; i += 1) {
    const row: number[] = [];
    for (let j = 0; j <= i; j += 1) {
      const other = j === i ? row : (lower[j] as number[]);
      let rest = matrix[i]?.[j] ?? 0;
      for (let k = 0; k < j; k += 1) rest -= (row[k] as number) * (other[k] as number);
      if (j < i) row.push(rest / (other[j] as number));
      else if (rest > 0) row.push(Math.sqrt(rest));
      else return null;
    }
    lower.push(row);
  }
  return lower;
}

/** Solves L z = right. */
export function solveLower(lower: readonly (readonly number[])[], right: readonly number[]): number[] {
  const z: number[] = [];
  lower.forEach((row, i) => {
    let rest = right[i] ?? 0;
    for (let k = 0; k < i; k += 1) rest -= (row[k] as number) * (z[k] as number);
    z.push(rest / (row[i] as number));
  });
  return z;
}

/** Solves L Lᵀ x = right. */
export function solveSymmetric(lower: readonly (readonly number[])[], right: readonly number[]): number[] {
  const x = solveLower(lower, right);
  for (let i = x.length - 1; i >= 0; i -= 1) {
    let rest = x[i] as number;
    for (let k = i + 1; k < x.length; k += 1) rest -= (lower[k]?.[i] as number) * (x[k] as number);
    x[i] = rest / (lower[i]?.[i] as number);
  }
  return x;
}

/** Natural logarithm of the determinant of L Lᵀ. */
export function logDeterminant(lower: readonly (readonly number[])[]): number {
  return 2 * lower.reduce((sum, row, i) => sum + Math.log(row[i] as number), 0);
}
