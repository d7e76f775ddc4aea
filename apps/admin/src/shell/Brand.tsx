/** Our sign: a lens riding over a wave. */
export function Brand() {
  return (
    <>
      <svg
        viewBox="0 0 32 32"
        aria-hidden="true"
        fill="none"
        stroke="var(--sea)"
        strokeWidth="2.6"
        strokeLinecap="round"
        strokeLinejoin="round"
      >
        <path d="M4 18c4-1 6-10 12-10s8 9 12 10c-3.5-2.6-7.5-4-12-4s-8.5 1.4-12 4z" />
        <path opacity="0.55" d="M5 24.5q2.75-2.6 5.5 0t5.5 0 5.5 0 5.5 0" />
      </svg>
      <span>Lensferry</span>
    </>
  );
}
