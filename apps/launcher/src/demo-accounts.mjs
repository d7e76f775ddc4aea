import { existsSync, readFileSync } from 'node:fs';

/**
 * The demo's accounts as a table for the terminal, from the list that the demo loader wrote:
 * `[{ email, password, role, name, clinics }]`.
 */
export function formatAccounts(file) {
  if (!existsSync(file)) return '';
  const accounts = JSON.parse(readFileSync(file, 'utf8'));
  const rows = accounts.map(({ email, password, role, name, clinics }) => [
    email,
    password,
    role,
    name,
    [clinics].flat().join(', '),
  ]);
  const widths = [0, 1, 2, 3].map((column) => Math.max(...rows.map((row) => row[column].length)));
  const lines = rows.map(
    (row) =>
      `  ${row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join('  ')
        .trimEnd()}`,
  );
  return `\nDemo accounts (e-mail, password, role, name, clinics):\n${lines.join('\n')}\n`;
}
