import { PUBLISHED_VAULT_MODELS } from '@lensferry/calculation';
import type { DesignSheet } from '@lensferry/contracts';
import type { Role } from '@lensferry/domain';
import type { Pace } from './pace.js';

/** The demo's clinics: invented. */
export const clinics = [
  { code: 'EST', name: 'Estuary Clinic', timeZone: 'Europe/Dublin' },
  { code: 'NOR', name: 'Northlight Eye House', timeZone: 'Europe/Berlin' },
  { code: 'HAR', name: 'Harbour Row', timeZone: 'Europe/Athens' },
] as const;
export type ClinicCode = (typeof clinics)[number]['code'];

interface DemoPerson {
  readonly name: string;
  readonly email: string;
  readonly role: Role;
  readonly clinics: readonly ClinicCode[];
}

/** Twelve people: invented. */
export const people: readonly DemoPerson[] = [
  { name: 'Dr Ilse Varga', email: 'ilse@lensferry.example', role: 'surgeon', clinics: ['EST', 'NOR'] },
  { name: 'Dr Tomas Beleni', email: 'tomas@lensferry.example', role: 'surgeon', clinics: ['NOR'] },
  { name: 'Dr Rhea Kalos', email: 'rhea@lensferry.example', role: 'surgeon', clinics: ['HAR'] },
  { name: 'Una Marsh', email: 'una@lensferry.example', role: 'coordinator', clinics: ['EST'] },
  { name: 'Jonas Feld', email: 'jonas@lensferry.example', role: 'coordinator', clinics: ['NOR'] },
  { name: 'Dafni Rou', email: 'dafni@lensferry.example', role: 'coordinator', clinics: ['HAR', 'EST'] },
  { name: 'Oona Reef', email: 'oona@lensferry.example', role: 'inventory', clinics: ['EST'] },
  { name: 'Piet Lorn', email: 'piet@lensferry.example', role: 'inventory', clinics: ['NOR'] },
  { name: 'Nikos Sera', email: 'nikos@lensferry.example', role: 'inventory', clinics: ['HAR'] },
  { name: 'Mara Quill', email: 'mara@lensferry.example', role: 'inventory', clinics: ['EST', 'NOR', 'HAR'] },
  {
    name: 'Ada Brook',
    email: 'ada@lensferry.example',
    role: 'administrator',
    clinics: ['EST', 'NOR', 'HAR'],
  },
  { name: 'Ivo Stern', email: 'ivo@lensferry.example', role: 'auditor', clinics: ['EST', 'NOR', 'HAR'] },
];

const [bothWays, horizontal] = PUBLISHED_VAULT_MODELS;

/** Lengths from one to another in quarter millimetres. */
const quarters = (fromMm: number, toMm: number): number[] =>
  Array.from({ length: Math.round((toMm - fromMm) * 4) + 1 }, (_, step) => fromMm + step / 4);

interface DemoDesign {
  readonly code: string;
  readonly name: string;
  readonly sheet: DesignSheet;
}

export interface DemoMaker {
  readonly code: string;
  readonly name: string;
  readonly channel: 'https' | 'by_hand';
  readonly timeZone: string;
  readonly currency: string;
  readonly returnWindowDays: number;
  readonly contact: string;
  readonly address: string;
  readonly website: string;
  readonly labelScheme: 'gs1' | 'hibc' | 'serial';
  readonly gtinPrefix: string | null;
  readonly pace: Pace;
  readonly designs: readonly DemoDesign[];
}

/** Four makers with different ranges, steps, lead times, return windows and channels: invented, sizes included. */
export const makers: readonly DemoMaker[] = [
  {
    code: 'QUILLON',
    name: 'Quillon',
    channel: 'https',
    timeZone: 'Europe/Zurich',
    currency: 'CHF',
    returnWindowDays: 60,
    contact: 'orders@quillon.example',
    address: '4 Tarn Lane, Zurich',
    website: 'https://quillon.example',
    labelScheme: 'gs1',
    gtinPrefix: '0950600',
    pace: { factor: 1.05, spread: 0.12, caution: 1 },
    designs: [
      {
        code: 'QL-TARN',
        name: 'Tarn toric',
        sheet: {
          sphere: { minD: -23, maxD: 3, stepD: 0.25 },
          cylinder: { minD: -10, maxD: 0, stepD: 0.25 },
          axis: { policy: 'any', stepDeg: 1 },
          lengthsMm: quarters(11.5, 13.5),
          lensPlaneOffsetMm: 0.6,
          highCylinderFromD: 5,
          quotedWorkingDays: { stocked: 20, made: 20, high: 30 },
          stocked: null,
          price: { base: '1480.00', highCylinder: '1690.00' },
          vaultModel: bothWays as unknown as DesignSheet['vaultModel'],
          gtin: null,
        },
      },
    ],
  },
  {
    code: 'OSTREL',
    name: 'Ostrel Glass',
    channel: 'https',
    timeZone: 'Europe/Lisbon',
    currency: 'EUR',
    returnWindowDays: 45,
    contact: 'desk@ostrel.example',
    address: '18 Glass Quay, Lisbon',
    website: 'https://ostrel.example',
    labelScheme: 'hibc',
    gtinPrefix: null,
    pace: { factor: 1.25, spread: 0.22, caution: 0.4 },
    designs: [
      {
        code: 'OG-HIGH',
        name: 'High cylinder',
        sheet: {
          sphere: { minD: -20, maxD: 0, stepD: 0.5 },
          cylinder: { minD: -14, maxD: 0, stepD: 0.5 },
          axis: { policy: 'any', stepDeg: 1 },
          lengthsMm: quarters(11.75, 13.75),
          lensPlaneOffsetMm: 0.5,
          highCylinderFromD: 6,
          quotedWorkingDays: { stocked: 25, made: 25, high: 35 },
          stocked: null,
          price: { base: '1150.00', highCylinder: '1390.00' },
          vaultModel: horizontal as unknown as DesignSheet['vaultModel'],
          gtin: null,
        },
      },
    ],
  },
  {
    code: 'MERROW',
    name: 'Merrow',
    channel: 'https',
    timeZone: 'Europe/Dublin',
    currency: 'EUR',
    returnWindowDays: 30,
    contact: 'care@merrow.example',
    address: '7 Merrow Strand, Dublin',
    website: 'https://merrow.example',
    labelScheme: 'gs1',
    gtinPrefix: '0950601',
    pace: { factor: 0.9, spread: 0.1, caution: 0.8 },
    designs: [
      {
        code: 'MR-SHELF',
        name: 'Shelf toric',
        sheet: {
          sphere: { minD: -18, maxD: 0, stepD: 0.5 },
          cylinder: { minD: -6, maxD: -0.5, stepD: 0.5 },
          axis: { policy: 'fixed', axesDeg: [180, 90], maximumTurnDeg: 22.5 },
          lengthsMm: quarters(12, 13.5),
          lensPlaneOffsetMm: 0.6,
          highCylinderFromD: 4,
          quotedWorkingDays: { stocked: 5, made: 15, high: 20 },
          stocked: { sphereMinD: -14, sphereMaxD: -1, cylinderMinD: -3.5 },
          price: { base: '980.00', highCylinder: '1120.00' },
          vaultModel: null,
          gtin: null,
        },
      },
    ],
  },
  {
    code: 'FENNICK',
    name: 'Fennick Bench',
    channel: 'by_hand',
    timeZone: 'America/Halifax',
    currency: 'USD',
    returnWindowDays: 90,
    contact: 'bench@fennick.example, answers by e-mail',
    address: '2 Bench Row, Halifax',
    website: 'https://fennick.example',
    labelScheme: 'serial',
    gtinPrefix: null,
    pace: { factor: 1.1, spread: 0.3, caution: 0.85 },
    designs: [
      {
        code: 'FB-ONE',
        name: 'One-eye bench lens',
        sheet: {
          sphere: { minD: -28, maxD: 6, stepD: 0.1 },
          cylinder: { minD: -18, maxD: 0, stepD: 0.1 },
          axis: { policy: 'any', stepDeg: 1 },
          lengthsMm: quarters(11, 14),
          lensPlaneOffsetMm: 0.6,
          highCylinderFromD: 8,
          quotedWorkingDays: { stocked: 45, made: 45, high: 55 },
          stocked: null,
          price: { base: '2100.00', highCylinder: '2450.00' },
          vaultModel: bothWays as unknown as DesignSheet['vaultModel'],
          gtin: null,
        },
      },
    ],
  },
];

/** Holidays that all demo makers and clinics keep, for the years around now: fixed dates only, editable by an administrator. */
export function holidaysAround(year: number): string[] {
  return [year - 1, year, year + 1].flatMap((y) => [
    `${y}-01-01`,
    `${y}-05-01`,
    `${y}-12-24`,
    `${y}-12-25`,
    `${y}-12-26`,
    `${y}-12-31`,
  ]);
}
