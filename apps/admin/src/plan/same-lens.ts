export interface ChosenLens {
  designVersionId: string;
  sphereD: number;
  cylinderD: number;
  axisDeg: number | null;
}

/** Whether two lenses are of one design, power and axis; their size may differ. */
export function sameLens(option: ChosenLens, chosen: ChosenLens | null): boolean {
  return (
    chosen !== null &&
    option.designVersionId === chosen.designVersionId &&
    option.sphereD === chosen.sphereD &&
    option.cylinderD === chosen.cylinderD &&
    option.axisDeg === chosen.axisDeg
  );
}
