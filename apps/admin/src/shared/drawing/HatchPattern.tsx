/** The sign of doubt, defined once: every drawing fills with `url(#hatch)`. */
export function HatchPattern() {
  return (
    <svg width="0" height="0" aria-hidden="true" className="hatch-defs">
      <defs>
        <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--sea)" strokeWidth="1.1" opacity="0.5" />
        </pattern>
      </defs>
    </svg>
  );
}
