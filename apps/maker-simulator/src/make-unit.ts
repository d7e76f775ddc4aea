import type { OrderDocument, ShippedUnit } from '@lensferry/contracts';
import { gs1CheckDigit, writeGs1Label, writeHibcLabel } from '@lensferry/domain';
import { between, dateAfter, hashText, seededNumbers } from './seeded.js';
import type { MakerSettings } from './settings.js';

/** What an order and a change of it both say of the lens to make. */
type Made = Pick<OrderDocument, 'orderNumber' | 'caseCode' | 'eye' | 'lens'>;

const YEARS_TO_EXPIRY = 3;

function makerLetters(code: string): string {
  return code
    .toUpperCase()
    .replace(/[^A-Z0-9]/g, '')
    .slice(0, 4);
}

/** The article number of a design: indicator 0, the maker's prefix, an item number from the design, check digit. */
export function articleNumber(gtinPrefix: string, designCode: string): string {
  const places = 12 - gtinPrefix.length;
  const item = String(hashText(designCode) % 10 ** places).padStart(places, '0');
  const body = `0${gtinPrefix}${item}`;
  return body + gs1CheckDigit(body);
}

function labelText(maker: MakerSettings, order: Made, unit: Omit<ShippedUnit, 'labelText'>, madeOn: string) {
  if (maker.labelScheme === 'gs1' && unit.gtin !== null) {
    const { sphereD, cylinderD, axisDeg, lengthMm } = order.lens;
    const lens = { eye: order.eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode: order.caseCode };
    return writeGs1Label({ ...unit, gtin: unit.gtin, madeOn, lens });
  }
  if (maker.labelScheme === 'hibc') {
    const labeller = `H${(hashText(maker.code) % 36 ** 3).toString(36).toUpperCase().padStart(3, '0')}`;
    const product = order.lens.designCode.replace(/[^A-Z0-9]/g, '').slice(0, 18);
    return writeHibcLabel({ ...unit, labeller, product, madeOn });
  }
  return unit.serial;
}

/**
 * Makes the one unit of an order: serial from maker and order number (so that no two orders share one), lot of
 * the week, expiry three years on, and the label that its maker prints.
 */
export function makeUnit(maker: MakerSettings, order: Made, madeAt: Date): ShippedUnit {
  const next = seededNumbers(`unit ${maker.code} ${order.orderNumber}`);
  const madeOn = dateAfter(madeAt, 0);
  const serial = `${makerLetters(maker.code)}${order.orderNumber.replaceAll('-', '')}`;
  const lot = `${madeOn.slice(2, 4)}${madeOn.slice(5, 7)}${'ABCDEFGH'.charAt(between(next, 0, 7))}${between(next, 10, 99)}`;
  const expiresOn = dateAfter(madeAt, Math.round(YEARS_TO_EXPIRY * 365.25) - between(next, 0, 60));
  const gtin =
    maker.labelScheme === 'gs1' && maker.gtinPrefix !== null
      ? articleNumber(maker.gtinPrefix, order.lens.designCode)
      : null;
  const unit = { serial, lot, expiresOn, gtin };
  return { ...unit, labelText: labelText(maker, order, unit, madeOn) };
}
