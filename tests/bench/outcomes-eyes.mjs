/** Invented eyes for benches: the same every time. */
export function makeOutcomeEyes(count) {
  let state = 12345;
  const roll = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const around = (spread) => spread * (roll() + roll() + roll() + roll() - 2);
  const quarter = (value) => Math.round(value * 4) / 4;
  return Array.from({ length: count }, (_, i) => ({
    id: `eye-${i}`,
    patient: `patient-${i >> 1}`,
    target: { sphereD: 0, cylinderD: 0, axisDeg: 0 },
    before: {
      refraction: {
        sphereD: quarter(-4 - 8 * roll()),
        cylinderD: quarter(-2 - 5 * roll()),
        axisDeg: Math.floor(180 * roll()),
        vertexMm: 12,
      },
      correctedLogMar: Math.round(3 * roll()) / 10,
    },
    visits: [30, 91, 365].map((daysAfter) => ({
      daysAfter,
      refraction: {
        sphereD: around(0.7),
        cylinderD: -1.5 * roll(),
        axisDeg: Math.floor(180 * roll()),
        vertexMm: 12,
      },
      correctedLogMar: Math.round(3 * roll()) / 10,
      uncorrectedLogMar: Math.round(4 * roll()) / 10,
      vaultUm: 300 + Math.round(500 * roll()),
    })),
  }));
}
