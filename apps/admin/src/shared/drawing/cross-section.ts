import { round } from './face-view';

/** What the cross-section is drawn from. Depth is from the endothelium. */
export interface SectionInput {
  meanKeratometryD: number;
  cornealThicknessUm: number;
  depthMm: number;
  widthMm: number;
  lensRiseUm: number | null;
}

export interface Section {
  /** Picture size, with `pxPerMm` for both directions. */
  width: number;
  height: number;
  pxPerMm: number;
  corneaFront: string;
  corneaBack: string;
  crystallineLens: string;
  irisLeft: [number, number, number, number];
  irisRight: [number, number, number, number];
  apexY: number;
  centreX: number;
}

const PX_PER_MM = 23;
const MARGIN_MM = 0.5;
/** Schematic, from memory: the front radius of a relaxed crystalline lens and half its width, mm. */
const LENS_RADIUS_MM = 10;
const LENS_HALF_MM = 4.6;
/** Asphericity for the flank of the cornea, schematic: it makes a steep cornea reach the limbus at a true depth. */
const CONIC = 0.4;

/** Sagitta of the cornea's front at a distance from the centre, mm. */
export function cornealSagittaMm(keratometryD: number, halfChordMm: number): number {
  const radiusMm = 337.5 / keratometryD;
  const inside = Math.max(0.05, 1 - (CONIC * halfChordMm ** 2) / radiusMm ** 2);
  return halfChordMm ** 2 / (radiusMm * (1 + Math.sqrt(inside)));
}

/** Where the ends of a phakic lens rest, in mm behind the apex of the crystalline lens; schematic. */
export function sulcusBehindApexMm(lensRiseUm: number | null): number {
  return 0.45 + (lensRiseUm ?? 200) / 1000;
}

/** The eye from the side: cornea, chamber, vault and lengths to scale; iris, flank and lens shape schematic. */
export function sectionOf(input: SectionInput): Section {
  const halfMm = input.widthMm / 2;
  const width = (input.widthMm + 2 * (MARGIN_MM + 0.4)) * PX_PER_MM;
  const centreX = width / 2;
  const x = (mm: number) => round(centreX + mm * PX_PER_MM);
  const y = (mm: number) => round((mm + MARGIN_MM) * PX_PER_MM);
  const thicknessMm = input.cornealThicknessUm / 1000;
  const limbusMm = cornealSagittaMm(input.meanKeratometryD, halfMm);
  const apexMm = thicknessMm + input.depthMm;
  const along = (offsetMm: (distance: number) => number) =>
    Array.from({ length: 41 }, (_, i) => -halfMm + (i * halfMm) / 20)
      .map((mm, i) => `${i === 0 ? 'M' : 'L'} ${x(mm)} ${y(offsetMm(mm))}`)
      .join(' ');
  const sagitta = (mm: number) => cornealSagittaMm(input.meanKeratometryD, Math.abs(mm));
  const lensEdgeMm = apexMm + LENS_HALF_MM ** 2 / (2 * LENS_RADIUS_MM);
  const bottomMm = lensEdgeMm + 0.75;
  const irisRootMm = limbusMm + 0.25;
  const pupilMm = apexMm - 0.75;
  return {
    width: round(width),
    height: round((bottomMm + 2 * MARGIN_MM) * PX_PER_MM),
    pxPerMm: PX_PER_MM,
    corneaFront: along(sagitta),
    corneaBack: along((mm) => sagitta(mm) + thicknessMm * (1 + 0.25 * (mm / halfMm) ** 2)),
    crystallineLens: `M ${x(-LENS_HALF_MM)} ${y(lensEdgeMm)} Q ${x(0)} ${y(2 * apexMm - lensEdgeMm)} ${x(LENS_HALF_MM)} ${y(lensEdgeMm)} Q ${x(0)} ${y(2 * bottomMm - lensEdgeMm)} ${x(-LENS_HALF_MM)} ${y(lensEdgeMm)} Z`,
    irisLeft: [x(-halfMm + 0.15), y(irisRootMm), x(-1.7), y(Math.max(pupilMm, irisRootMm - 0.6))],
    irisRight: [x(halfMm - 0.15), y(irisRootMm), x(1.7), y(Math.max(pupilMm, irisRootMm - 0.6))],
    apexY: y(apexMm),
    centreX: round(centreX),
  };
}

/** The phakic lens as an arc: its middle one vault in front of the crystalline lens, its ends in the sulcus. */
export function lensArc(
  section: Section,
  lengthMm: number,
  vaultUm: number,
  lensRiseUm: number | null,
): string {
  const half = (lengthMm / 2) * section.pxPerMm;
  const top = section.apexY - (vaultUm / 1000) * section.pxPerMm;
  const end = section.apexY + sulcusBehindApexMm(lensRiseUm) * section.pxPerMm;
  return `M ${round(section.centreX - half)} ${round(end)} Q ${section.centreX} ${round(2 * top - end)} ${round(section.centreX + half)} ${round(end)}`;
}

/** The space between a low and a high vault as one closed shape: where the lens may come to lie. */
export function lensBand(
  section: Section,
  lengthMm: number,
  lowUm: number,
  highUm: number,
  lensRiseUm: number | null,
): string {
  const there = lensArc(section, lengthMm, highUm, lensRiseUm);
  const half = (lengthMm / 2) * section.pxPerMm;
  const low = section.apexY - (lowUm / 1000) * section.pxPerMm;
  const end = section.apexY + sulcusBehindApexMm(lensRiseUm) * section.pxPerMm;
  return `${there} Q ${section.centreX} ${round(2 * low - end)} ${round(section.centreX - half)} ${round(end)} Z`;
}
