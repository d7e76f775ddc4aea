/**
 * Solves `matrix · x = right` for a small square matrix by elimination with partial pivoting; null when the
 * matrix is singular. Neither argument is changed.
 */
export function solveLinear(
  matrix: readonly (readonly number[])[],
  right: readonly number[],
): number[] | null {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i] ?? 0]);
  const scale = Math.max(...rows.flat().map(Math.abs), Number.MIN_VALUE);
  for (let column = 0; column < n; column += 1) {
    let pivot = column;
    for (let i = column + 1; i < n; i += 1) {
      if (Math.abs(rows[i]?.[column] ?? 0) > Math.abs(rows[pivot]?.[column] ?? 0)) pivot = i;
    }
    const top = rows[pivot] as number[];
    if (Math.abs(top[column] ?? 0) < 1e-12 * scale) return null;
    rows[pivot] = rows[column] as number[];
    rows[column] = top;
    for (let i = 0; i < n; i += 1) {
      if (i === column) continue;
      const row = rows[i] as number[];
      const factor = (row[column] ?? 0) / (top[column] as number);
      for (let j = column; j <= n; j += 1) row[j] = (row[j] ?? 0) - factor * (top[j] ?? 0);
    }
  }
  return rows.map((row, i) => (row[n] ?? 0) / (row[i] as number));
}
