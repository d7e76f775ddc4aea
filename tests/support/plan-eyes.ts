/** An eye with only the fields that a plan needs. */
export const good = {
  id: 'A1',
  eye: 'OD',
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 130 },
  anteriorChamberDepthMm: 3.1,
  cornealThicknessUm: 500,
};

/** The same with every field. */
export const whole = {
  ...good,
  target: { sphereD: -0.5, cylinderD: -0.25, axisDeg: 180 },
  keratometry: { ...good.keratometry, index: 1.3375 },
  lensPlaneOffsetMm: 0.5,
  kmaxD: 56,
  coneDistanceMm: 0.6,
  whiteToWhiteMm: 11.7,
  sulcusMm: 11.8,
  angleToAngleMm: 11.9,
  lensRiseUm: 150,
  lensThicknessMm: 3.7,
  lens: { sphereD: -9, cylinderD: -4.5, axisDeg: 30 },
  sizesMm: [12, 12.5, 13],
};
