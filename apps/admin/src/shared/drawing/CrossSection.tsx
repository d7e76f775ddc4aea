import { useTranslate } from 'react-admin';
import { useFormat } from '../format/use-format';
import { lensArc, lensBand, sectionOf, type SectionInput } from './cross-section';

export interface LensInSection {
  lengthMm: number;
  /** Predicted (with its spread) or measured (without one). */
  vaultUm: number;
  spread: { p10: number; p90: number } | null;
}

interface Props {
  eye: SectionInput & { widthName: 'sulcusMm' | 'angleToAngleMm' | 'whiteToWhiteMm' };
  lens: LensInSection | null;
  /** Other sizes to compare, as faint lines. */
  others?: readonly LensInSection[];
}

/** The eye from the side, to scale, with the vault that is predicted (hatched doubt) or was measured. */
export function CrossSection({ eye, lens, others = [] }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const section = sectionOf(eye);
  const above = t('draw.cornea_and_depth', {
    cornea: format.um(eye.cornealThicknessUm),
    depth: format.mm(eye.depthMm),
  });
  const width = t(`draw.${eye.widthName}`, { width: format.mm(eye.widthMm) });
  const below = lens ? t('draw.lens_in', { length: format.mm(lens.lengthMm), width }) : width;
  const vault =
    lens && (lens.spread ? format.umRange(lens.spread.p10, lens.spread.p90) : format.um(lens.vaultUm));
  const band =
    lens?.spread && lensBand(section, lens.lengthMm, lens.spread.p10, lens.spread.p90, eye.lensRiseUm);
  const said = vault && t(lens?.spread ? 'draw.vault_likely' : 'draw.vault_measured', { vault });
  const top = lens ? section.apexY - (lens.vaultUm / 1000) * section.pxPerMm : section.apexY;
  return (
    <figure className="drawing">
      <svg
        viewBox={`0 0 ${section.width} ${section.height}`}
        role="img"
        aria-label={[above, below, said].filter(Boolean).join('. ')}
      >
        <path d={section.crystallineLens} fill="var(--sea-soft)" stroke="var(--line)" strokeWidth="1.4" />
        {band && (
          <>
            <path d={band} fill="var(--sea-soft)" stroke="none" />
            <path d={band} fill="url(#hatch)" stroke="none" />
          </>
        )}
        {others.map((other) => (
          <path
            key={other.lengthMm}
            d={lensArc(section, other.lengthMm, other.vaultUm, eye.lensRiseUm)}
            fill="none"
            stroke="var(--muted)"
            strokeWidth="1"
            strokeDasharray="2 3"
          />
        ))}
        <path
          d={section.corneaFront}
          fill="none"
          stroke="var(--ink)"
          strokeWidth="2.2"
          strokeLinecap="round"
        />
        <path d={section.corneaBack} fill="none" stroke="var(--ink)" strokeWidth="0.9" opacity="0.6" />
        {[section.irisLeft, section.irisRight].map(([x1, y1, x2, y2]) => (
          <line
            key={x1}
            x1={x1}
            y1={y1}
            x2={x2}
            y2={y2}
            stroke="var(--muted)"
            strokeWidth="5"
            strokeLinecap="round"
          />
        ))}
        {lens && (
          <>
            <path
              d={lensArc(section, lens.lengthMm, lens.vaultUm, eye.lensRiseUm)}
              fill="none"
              stroke="var(--sea)"
              strokeWidth="3.4"
              strokeLinecap="round"
            />
            <path
              d={`M ${section.centreX - 4} ${top} h 8 M ${section.centreX} ${top} V ${section.apexY} M ${section.centreX - 4} ${section.apexY} h 8`}
              stroke="var(--brick)"
              strokeWidth="1.4"
              fill="none"
            />
            <text
              x={section.centreX + 10}
              y={section.apexY + 18}
              className="drawing__value drawing__value--ink"
            >
              {format.um(lens.vaultUm)}
            </text>
          </>
        )}
      </svg>
      <figcaption>
        {above}
        <br />
        {below} · {t('draw.to_scale')}
        {said && (
          <>
            <br />
            {said}
          </>
        )}
      </figcaption>
    </figure>
  );
}
