import bwipjs from 'bwip-js/node';
import { writeBracketedLabel } from '@lensferry/domain';

/** A lens unit as its symbol needs it. */
export interface SymbolContent {
  readonly gtin: string | null;
  readonly serial: string;
  readonly lot: string | null;
  readonly expiresOn: string;
  /** What its maker's own label holds, where it has one. */
  readonly labelText: string;
  readonly lens: {
    readonly eye: 'RIGHT' | 'LEFT';
    readonly sphereD: number;
    readonly cylinderD: number;
    readonly axisDeg: number | null;
    readonly lengthMm: number;
    readonly caseCode: string;
  };
}

/** A picture of a symbol, and what it holds in letters. */
export interface Symbol {
  readonly png: Buffer;
  readonly text: string;
}

/**
 * The symbol for a unit: a GS1 DataMatrix where its maker gave it a GTIN, else a plain DataMatrix of the maker's own
 * label, or of the serial alone. A GS1 symbol without a GTIN would claim an identity that nobody issued.
 */
export async function symbolOf(unit: SymbolContent): Promise<Symbol> {
  const { gtin, serial, lot, expiresOn, lens } = unit;
  if (gtin !== null && lot !== null) {
    const text = writeBracketedLabel({ gtin, serial, lot, expiresOn, lens });
    return { png: await draw('gs1datamatrix', text), text };
  }
  const text = unit.labelText.startsWith('+') ? unit.labelText : serial;
  return { png: await draw('datamatrix', text), text };
}

const draw = (bcid: string, text: string): Promise<Buffer> =>
  bwipjs.toBuffer({ bcid, text, scale: 4, padding: 4, backgroundcolor: 'FFFFFF' });
