/** Which rules a label was read by. */
export const LABEL_SCHEMES = ['gs1', 'gs1-digital-link', 'hibc', 'serial'] as const;
/** One of {@link LABEL_SCHEMES}. */
export type LabelScheme = (typeof LABEL_SCHEMES)[number];

/** The lens as its maker printed it in Lensferry's own element: dioptres (minus cylinder), degrees, millimetres. */
export interface LabelLens {
  readonly eye: 'RIGHT' | 'LEFT';
  readonly sphereD: number;
  readonly cylinderD: number;
  /** 1 to 180, or null exactly when there is no cylinder. */
  readonly axisDeg: number | null;
  readonly lengthMm: number;
  readonly caseCode: string;
}

/** Something that a person should know about a label that was nevertheless read. */
export interface LabelWarning {
  readonly code:
    | 'day-00'
    | 'no-gtin'
    | 'no-product'
    | 'needless-separator'
    | 'repeated-element'
    | 'foreign-lens-element'
    | 'made-in-future'
    | 'month-only';
  readonly message: string;
}

/** One identified piece of a label, in the order in which it was printed. */
export interface LabelElement {
  /** GS1 application identifier, or the HIBC field's marker. */
  readonly identifier: string;
  readonly value: string;
  /** Offset from 0 into the text. */
  readonly position: number;
}

/** What a label says. Absent fields are not on the label; dates are ISO plain dates. */
export interface LabelReading {
  readonly scheme: LabelScheme;
  /** 14 digits with a proven check digit. */
  readonly gtin?: string;
  /** Labeller, product number and unit of measure, as in `A99912345`. */
  readonly hibcPrimary?: string;
  readonly serial?: string;
  readonly lot?: string;
  readonly expiresOn?: string;
  readonly madeOn?: string;
  readonly lens?: LabelLens;
  readonly elements: readonly LabelElement[];
  readonly warnings: readonly LabelWarning[];
  readonly raw: string;
}
