import { day } from './eye.js';
import type { Person } from './house.js';

/** Who asks, of what, and with which body: right in form for every operation that takes one. */
export interface GoodCall {
  readonly as: Person | null;
  readonly params: Record<string, string>;
  readonly body: Record<string, unknown>;
}

export interface Things {
  readonly una: Person;
  readonly ilse: Person;
  readonly oona: Person;
  readonly ada: Person;
  readonly makerId: string;
  readonly clinicId: string;
  readonly surgeonId: string;
  readonly caseId: string;
  readonly measurementId: string;
  readonly orderId: string;
  readonly orderNumber: string;
  readonly lensId: string;
  readonly returnId: string;
  readonly parcelId: string;
  readonly transferId: string;
  readonly countId: string;
  readonly designVersionId: string;
}

const why = 'The test asks for it.';
const chamber = {
  kind: 'chamber',
  takenOn: day(10),
  device: 'OCT',
  observer: 'Una Marsh',
  values: { depthMm: 3.6, from: 'epithelium', cornealThicknessUm: 480 },
};

/** For every operation with a body, one that its schema takes. Versions are far ahead, so no step is really taken. */
export function goodCalls(things: Things): Record<string, GoodCall> {
  const { una, ilse, oona, caseId, orderId, lensId, returnId, parcelId, designVersionId } = things;
  const version = 900;
  const ofCase = (body: object, as = una) => ({ as, params: { id: caseId }, body: { ...body } });
  const ofOrder = (body: object, as = una) => ({ as, params: { id: orderId }, body: { version, ...body } });
  const ofLens = (body: object, as = oona) => ({ as, params: { id: lensId }, body: { version, ...body } });
  const ofParcel = (body: object) => ({ as: oona, params: { id: parcelId }, body: { version, ...body } });
  const ofTransfer = (body: object) => ({
    as: oona,
    params: { id: things.transferId },
    body: { version, ...body },
  });
  const ofCount = (body: object) => ({ as: oona, params: { id: things.countId }, body: { ...body } });
  const ofReturn = (body: object) => ({ as: oona, params: { id: returnId }, body: { version, ...body } });
  const target = { sphereD: -0.5, cylinderD: -0.25, axisDeg: 180 };
  const lens = { sphereD: -9, cylinderD: -4, axisDeg: 30, lengthMm: 12.5 };
  const label = {
    text: 'A1',
    serial: 'S1',
    lot: 'L1',
    expiresOn: day(-400),
    eye: 'OD',
    ...lens,
    caseCode: 'EST-0001R',
  };
  return {
    'POST /api/session': {
      as: null,
      params: {},
      body: { email: 'nobody@lensferry.example', password: 'not it' },
    },
    'POST /api/account/password': {
      as: una,
      params: {},
      body: { password: 'not it', newPassword: 'violet harbour sings' },
    },
    'POST /api/account/second-factor': { as: una, params: {}, body: { password: 'not it' } },
    'POST /api/account/second-factor/confirm': { as: una, params: {}, body: { code: '000000' } },
    'POST /api/account/second-factor/remove': { as: una, params: {}, body: { password: 'not it' } },
    'POST /api/invitations': {
      as: things.ada,
      params: {},
      body: {
        name: 'New Colleague',
        email: 'new@lensferry.example',
        role: 'auditor',
        clinicIds: [things.clinicId],
      },
    },
    'POST /api/invitations/look': { as: null, params: {}, body: { token: 'x'.repeat(43) } },
    'POST /api/invitations/accept': {
      as: null,
      params: {},
      body: { token: 'x'.repeat(43), newPassword: 'violet harbour sings' },
    },
    'POST /api/people/{id}/place': {
      as: things.ada,
      params: { id: things.surgeonId },
      body: { role: 'surgeon', clinicIds: [things.clinicId], why },
    },
    ...Object.fromEntries(
      ['end-sessions', 'deactivate', 'reactivate', 'reset-second-factor', 'renew-password'].map((step) => [
        `POST /api/people/{id}/${step}`,
        { as: things.ada, params: { id: things.surgeonId }, body: { why } },
      ]),
    ),
    'POST /api/cases': {
      as: una,
      params: {},
      body: {
        clinicId: things.clinicId,
        codeName: 'Taken already',
        birthYear: 1994,
        identity: { name: 'Test Person', birthDate: '1994-02-03', recordNumber: 'T-1' },
        eye: 'OD',
        surgeonId: things.surgeonId,
      },
    },
    'POST /api/cases/{id}/measurements': ofCase({
      kind: 'refraction',
      takenOn: day(20),
      device: 'phoropter',
      observer: 'Una Marsh',
      values: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12, correctedDecimal: 0.8 },
    }),
    'POST /api/cases/{id}/measurements/{measurementId}/correction': {
      as: una,
      params: { id: caseId, measurementId: things.measurementId },
      body: { measurement: chamber, why },
    },
    'POST /api/cases/{id}/plan-preview': ofCase({ target }),
    'POST /api/cases/{id}/plans': ofCase({ target, designVersionId, ...lens }),
    'POST /api/cases/{id}/theatre-date': ofCase({ version, theatreOn: day(-60) }),
    'POST /api/cases/{id}/implantation': ofCase(
      { version, lensId, serial: 'S1', performedOn: day(0), axisDeg: 30 },
      ilse,
    ),
    'POST /api/cases/{id}/exchange': ofCase({ version, reason: 'vault_high', note: why }, ilse),
    'POST /api/cases/{id}/considered-event': ofCase(
      {
        implantationId: '019aa000-0000-7000-8000-000000000000',
        decision: 'not_to_report',
        reference: 'V-1',
        why,
      },
      ilse,
    ),
    'POST /api/cases/{id}/exchange/end': ofCase({ version, why }, ilse),
    'POST /api/cases/{id}/close': ofCase({ version, why }, ilse),
    'POST /api/cases/{id}/withdraw': ofCase({ version, why }),
    'POST /api/cases/{id}/erase-identity': ofCase({ password: 'not it', why }, things.ada),
    'POST /api/orders/inquiries': {
      as: una,
      params: {},
      body: { orders: [{ id: orderId, version }], how: why },
    },
    'POST /api/orders/{id}/submit': ofOrder({}),
    'POST /api/orders/{id}/request-changes': ofOrder({ why }, ilse),
    'POST /api/orders/{id}/sign': ofOrder(
      { specificationHash: '0'.repeat(64), password: 'not it', reasons: { age: why } },
      ilse,
    ),
    'POST /api/orders/{id}/place': ofOrder({}),
    'POST /api/orders/{id}/deliver': ofOrder({}),
    'POST /api/orders/{id}/retry': ofOrder({}),
    'POST /api/orders/{id}/acknowledge': ofOrder({ promisedOn: day(-20) }),
    'POST /api/orders/{id}/promise': ofOrder({ promisedOn: day(-20), why }),
    'POST /api/orders/{id}/decline': ofOrder({ why }),
    'POST /api/orders/{id}/ask-cancel': ofOrder({ why }),
    'POST /api/orders/{id}/accept-cancel': ofOrder({}),
    'POST /api/orders/{id}/refuse-cancel': ofOrder({ why }),
    'POST /api/orders/{id}/ask-change': ofOrder({}),
    'POST /api/orders/{id}/sign-change': ofOrder(
      { specificationHash: '0'.repeat(64), password: 'not it', reasons: { age: why } },
      ilse,
    ),
    'POST /api/orders/{id}/withdraw-change': ofOrder({}),
    'POST /api/orders/{id}/tell-again': ofOrder({}),
    'POST /api/orders/{id}/told': ofOrder({ how: why }),
    'POST /api/orders/{id}/accept-change': ofOrder({ promisedOn: day(-20) }),
    'POST /api/orders/{id}/refuse-change': ofOrder({ why }),
    'POST /api/orders/{id}/ship': ofOrder({ tracking: 'PARCEL 1', expectedOn: day(-3) }),
    'POST /api/orders/{id}/cancel': ofOrder({ why }),
    'POST /api/orders/{id}/receive': {
      as: oona,
      params: { id: orderId },
      body: { label, outcome: 'accept', location: 'shelf 1', why },
    },
    'POST /api/arrivals/read': { as: oona, params: {}, body: { label, orderId } },
    'POST /api/lenses/{id}/read': ofLens({ serial: 'S1', lengthMm: 12.5 }),
    'POST /api/lenses/{id}/release': ofLens({ why }, ilse),
    'POST /api/lenses/{id}/reject': ofLens({ why }),
    'POST /api/clinics': {
      as: things.ada,
      params: {},
      body: { code: 'EEE', name: 'Twin of Estuary', timeZone: 'Europe/Zurich' },
    },
    'POST /api/lenses/{id}/unreserve': ofLens({ why }),
    'POST /api/lenses/{id}/reserve': ofLens({ orderId, why }),
    'POST /api/stock-counts': {
      as: oona,
      params: {},
      body: { clinicId: things.clinicId, location: 'shelf 9' },
    },
    'POST /api/stock-counts/{id}/readings': ofCount({ text: 'S1' }),
    'POST /api/stock-counts/{id}/close': ofCount({
      version,
      explanations: [{ serial: 'S1', explanation: 'noted', location: 'shelf 1', why }],
    }),
    'POST /api/stock-counts/{id}/give-up': ofCount({ version, why }),
    'POST /api/lenses/{id}/offer': ofLens({ toClinicId: things.clinicId, why }),
    'POST /api/transfers/{id}/accept': ofTransfer({ orderId }),
    'POST /api/transfers/{id}/send': ofTransfer({ tracking: 'PARCEL 1' }),
    'POST /api/transfers/{id}/receive': ofTransfer({ label, location: 'shelf 1' }),
    'POST /api/transfers/{id}/take-back': ofTransfer({ location: 'shelf 1', why }),
    ...Object.fromEntries(
      ['decline', 'withdraw', 'refuse', 'lose'].map((step) => [
        `POST /api/transfers/{id}/${step}`,
        ofTransfer({ why }),
      ]),
    ),
    'POST /api/lenses/{id}/owner': ofLens({ owner: 'consignment', why }),
    'POST /api/parcels': {
      as: oona,
      params: {},
      body: { clinicId: things.clinicId, label, location: 'apart', note: why },
    },
    'POST /api/parcels/{id}/match': ofParcel({ orderId, why }),
    'POST /api/parcels/{id}/send-back': ofParcel({ why }),
    'POST /api/parcels/{id}/hand-over': ofParcel({ why }),
    'POST /api/lenses/{id}/discard': ofLens({ why }),
    'POST /api/lenses/{id}/return': ofLens({ reason: why }),
    'POST /api/returns/{id}/authorise': ofReturn({ authorisation: 'RA-1' }),
    'POST /api/returns/{id}/hand-over': ofReturn({ tracking: 'BACK 1' }),
    'POST /api/returns/{id}/receive': ofReturn({}),
    'POST /api/returns/{id}/credit': ofReturn({ amount: '1480.00' }),
    'POST /api/returns/{id}/tell-again': ofReturn({}),
    'POST /api/returns/{id}/told': ofReturn({ how: why }),
    'POST /api/returns/{id}/write-off': ofReturn({ why }),
    'POST /api/makers/{id}/designs/{code}/sheet-preview': {
      as: things.ada,
      params: { id: things.makerId, code: 'QL-TARN' },
      body: { file: 'field,unit,value' },
    },
    'POST /api/makers/{id}/designs/{code}/sheet': {
      as: things.ada,
      params: { id: things.makerId, code: 'QL-TARN' },
      body: { file: 'field,unit,value', newest: version, validFrom: day(-300) },
    },
    'POST /api/makers/{id}/edit': {
      as: things.ada,
      params: { id: things.makerId },
      body: {
        version,
        contact: 'desk@quillon.example',
        currency: 'CHF',
        returnWindowDays: 60,
        timeZone: 'Europe/Zurich',
        cutOff: '16:00',
        holidays: [day(-300)],
        terms: why,
      },
    },
    'POST /api/makers': {
      as: things.ada,
      params: {},
      // Taken already, so that nothing is added however often it is called.
      body: {
        code: 'QUILLON',
        name: 'Quillon',
        channel: 'by_hand',
        endpoint: null,
        orderEmail: null,
        sendsPerMinute: 60,
        contact: 'desk@quillon.example',
        currency: 'CHF',
        returnWindowDays: 60,
        timeZone: 'Europe/Zurich',
        cutOff: null,
        holidays: [],
        terms: null,
      },
    },
    'POST /api/makers/{id}/reach': {
      as: things.ada,
      params: { id: things.makerId },
      body: { version, channel: 'by_hand', endpoint: null, orderEmail: null, sendsPerMinute: 60 },
    },
    'POST /api/makers/{id}/secret': { as: things.ada, params: { id: things.makerId }, body: { version } },
    'POST /api/makers/{id}/designs': {
      as: things.ada,
      params: { id: things.makerId },
      body: { code: 'QL-TARN', name: 'Tarn', file: 'field,unit,value', validFrom: day(-300) },
    },
    'POST /api/limits': {
      as: ilse,
      params: {},
      body: { key: 'ageAtLeast', was: 21, value: 22, why, password: 'not it' },
    },
    'POST /api/outcomes/visit-schedule': {
      as: things.ada,
      params: {},
      body: { was: [1, 7, 30, 91, 182, 365], visitDays: [1, 7, 30, 91, 182, 365], why },
    },
    'POST /api/outcomes/models/proposals': {
      as: things.ada,
      params: {},
      body: { designCode: 'QL-TARN', kind: 'learned', version, why },
    },
    'POST /api/outcomes/models/proposals/{id}/sign': {
      as: ilse,
      params: { id: things.makerId },
      body: { password: 'not it' },
    },
    'POST /api/maker-messages/{code}': {
      as: null,
      params: { code: 'QUILLON' },
      body: {
        type: 'order.shipped',
        sentAt: new Date().toISOString(),
        orderNumber: things.orderNumber,
        trackingReference: 'PARCEL 1',
        expectedOn: day(-3),
        unit: { serial: 'S1', lot: 'L1', expiresOn: day(-900), gtin: null, labelText: 'S1' },
      },
    },
  };
}
