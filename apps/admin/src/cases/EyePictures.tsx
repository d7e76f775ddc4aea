import type { CaseDetail, PlanInput } from '@lensferry/contracts';
import { CrossSection } from '../shared/drawing/CrossSection';
import { FaceView } from '../shared/drawing/FaceView';
import { faceOf, sectionLensOf, widthOf } from './eye-numbers';

export function EyePictures({ of, input }: { of: CaseDetail; input: PlanInput }) {
  const width = widthOf(input);
  return (
    <div className="case__pictures">
      <FaceView input={faceOf(of, input)} />
      {width && (
        <CrossSection
          eye={{
            meanKeratometryD: (input.keratometry.flatD + input.keratometry.steepD) / 2,
            cornealThicknessUm: input.cornealThicknessUm,
            depthMm: input.depthFromEndotheliumMm,
            lensRiseUm: input.lensRiseUm,
            ...width,
          }}
          lens={sectionLensOf(of)}
        />
      )}
    </div>
  );
}
