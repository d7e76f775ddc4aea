/** A QR code from its rows; black on white in either mode, with the quiet zone that readers need. */
export function QrCode({ rows, label }: { rows: readonly string[]; label: string }) {
  const quiet = 4;
  const side = rows.length + 2 * quiet;
  const path = rows
    .flatMap((row, y) => [...row].map((dot, x) => (dot === '1' ? `M${x + quiet} ${y + quiet}h1v1h-1z` : '')))
    .join('');
  return (
    <svg width="220" height="220" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label}>
      <rect width={side} height={side} fill="#ffffff" />
      <path d={path} fill="#000000" shapeRendering="crispEdges" />
    </svg>
  );
}
