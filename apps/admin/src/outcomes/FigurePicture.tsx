import type { Ref } from 'react';
import { BarsPicture } from './BarsPicture';
import { CoursePicture } from './CoursePicture';
import { CurvePicture } from './CurvePicture';
import { DoubleAnglePicture } from './DoubleAnglePicture';
import type { Figure } from './figure-model';
import { FunnelPicture } from './FunnelPicture';
import { PointsPicture } from './PointsPicture';
import { RangesPicture } from './RangesPicture';
import { BOX } from './scales';

export interface Says {
  share: (share: number) => string;
  number: (value: number) => string;
}

/** A figure's picture; every colour and size is an attribute, so that it can leave the page as it is. */
export function FigurePicture({
  figure,
  says,
  ref,
}: {
  figure: Figure;
  says: Says;
  ref?: Ref<SVGSVGElement>;
}) {
  return (
    <svg
      ref={ref ?? null}
      viewBox={`0 0 ${BOX.width} ${BOX.height}`}
      role="img"
      aria-label={`${figure.name}. ${figure.finding}`}
      fontFamily="var(--text)"
      data-figure={figure.id}
    >
      <Inside figure={figure} says={says} />
    </svg>
  );
}

function Inside({ figure: { id, model }, says }: { figure: Figure; says: Says }) {
  switch (model.kind) {
    case 'bars':
      return <BarsPicture id={id} model={model} say={says.share} />;
    case 'points':
      return <PointsPicture model={model} say={says.number} />;
    case 'course':
      return <CoursePicture model={model} say={says.number} />;
    case 'double-angle':
      return <DoubleAnglePicture model={model} />;
    case 'funnel':
      return <FunnelPicture model={model} say={says.share} />;
    case 'curve':
      return <CurvePicture id={id} model={model} share={says.share} number={says.number} />;
    case 'ranges':
      return <RangesPicture model={model} say={says.number} />;
  }
}
