import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import bwipjs from 'bwip-js/node';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  compareLabel,
  readLabel,
  writeBracketedLabel,
  writeGs1Label,
  writeHibcLabel,
} from '../../packages/domain/src/identification/index.js';

// An independent program draws our labels as symbols, and another one reads them: what we write must be legal
// to both, and what they send must be read as it was written.
const today = '2026-11-25';
const lens = {
  eye: 'RIGHT' as const,
  sphereD: -9.25,
  cylinderD: -4.75,
  axisDeg: 32,
  lengthMm: 12.5,
  caseCode: 'EST-0042R',
};
const pack = {
  gtin: '09506000134352',
  serial: 'SN0001',
  lot: 'ABC123',
  expiresOn: '2029-11-30',
  madeOn: '2026-11-20',
};

async function drawAndRead(bcid: string, text: string): Promise<string> {
  const png = await bwipjs.toBuffer({ bcid, text, scale: 4, padding: 12, backgroundcolor: 'FFFFFF' });
  const [symbol] = await readBarcodes(new Uint8Array(png), { textMode: 'Plain', tryHarder: true });
  if (!symbol) throw new Error(`${bcid} was drawn but not found`);
  return `${symbol.symbologyIdentifier}${symbol.text}`;
}

describe('our labels as symbols', () => {
  beforeAll(async () => {
    const path = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
    const bytes = await readFile(path);
    const wasmBinary = bytes.buffer.slice(
      bytes.byteOffset,
      bytes.byteOffset + bytes.byteLength,
    ) as ArrayBuffer;
    await prepareZXingModule({ overrides: { wasmBinary }, fireImmediately: true });
  });

  it.each(['gs1datamatrix', 'gs1-128', 'gs1qrcode'])(
    'the whole label as %s comes back field by field',
    async (bcid) => {
      const scanned = await drawAndRead(
        bcid,
        writeBracketedLabel(bcid === 'gs1-128' ? { ...pack } : { ...pack, lens }),
      ); // drawn by bwip-js, read by zxing-wasm
      const compared = compareLabel(
        { ...pack, ...(bcid !== 'gs1-128' && lens) },
        readLabel(scanned, { today }),
      );
      expect(compared.map(({ verdict }) => verdict)).toEqual(compared.map(() => 'match'));
      expect(compared.length).toBe(bcid === 'gs1-128' ? 4 : 10);
      if (bcid === 'gs1datamatrix') expect(scanned).toBe(writeGs1Label({ ...pack, lens })); // zxing-wasm sends what a scanner sends
    },
  );

  it('a HIBC label comes back from Data Matrix, QR and Code 128', async () => {
    const text = writeHibcLabel({
      labeller: 'L123',
      product: 'TORIC7',
      serial: 'SN0001',
      lot: 'AB12',
      expiresOn: '2029-11-30',
    });
    for (const bcid of ['hibcdatamatrix', 'hibcqrcode', 'hibccode128']) {
      // bwip-js adds the leading + and the check character itself, and so proves ours
      const scanned = await drawAndRead(bcid, text.slice(1, -1));
      expect(scanned.slice(3)).toBe(text);
      expect(readLabel(scanned, { today })).toMatchObject({ scheme: 'hibc', serial: 'SN0001', lot: 'AB12' });
    }
  });
});
