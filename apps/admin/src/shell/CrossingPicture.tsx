/** The sign-in page's picture: a lens under way to an eye, and the hatched doubt of its arrival. */
export function CrossingPicture({ label }: { label: string }) {
  return (
    <svg className="shell__picture" viewBox="0 0 420 96" role="img" aria-label={label}>
      <defs>
        <pattern
          id="shell-hatch"
          width="6"
          height="6"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--sea)" strokeWidth="1" opacity="0.55" />
        </pattern>
      </defs>
      <line x1="20" y1="58" x2="352" y2="58" stroke="var(--line)" strokeWidth="2" />
      <rect x="180" y="48" width="120" height="20" rx="10" fill="var(--sea-soft)" />
      <rect x="180" y="48" width="120" height="20" rx="10" fill="url(#shell-hatch)" stroke="var(--sea)" />
      <circle cx="232" cy="58" r="5.5" fill="var(--sea)" />
      <path
        d="M46 52c9-2 12-20 26-20s17 18 26 20c-8-5-17-7-26-7s-18 2-26 7z"
        fill="none"
        stroke="var(--sea)"
        strokeWidth="3"
        strokeLinejoin="round"
      />
      <circle cx="378" cy="58" r="26" fill="none" stroke="var(--ink)" strokeWidth="2.5" />
      <circle cx="378" cy="58" r="11" fill="none" stroke="var(--muted)" strokeWidth="2" />
      <line x1="362" y1="66" x2="394" y2="50" stroke="var(--sea)" strokeWidth="3" strokeLinecap="round" />
    </svg>
  );
}
