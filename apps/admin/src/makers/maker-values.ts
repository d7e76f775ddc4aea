import type { MakerSummary } from '@lensferry/contracts';

type Values = Record<string, unknown>;

const textOrNone = (value: unknown): string | null => String(value ?? '').trim() || null;

/** A maker's agreement as its form writes it: holidays as days with lines between, nothing as an empty text. */
export function agreedValues(maker: MakerSummary): Values {
  const { version, contact, currency, returnWindowDays, timeZone } = maker;
  return {
    version,
    contact,
    currency,
    returnWindowDays,
    timeZone,
    cutOff: maker.cutOff ?? '',
    holidays: maker.holidays.join('\n'),
    terms: maker.terms ?? '',
    address: maker.address ?? '',
    website: maker.website ?? '',
  };
}

/** A form's values in the shape of the contract: emptied texts are none, each holiday a day of its own. */
export function shapeAgreed(values: Values): Values {
  return {
    ...values,
    cutOff: textOrNone(values['cutOff']),
    terms: textOrNone(values['terms']),
    address: textOrNone(values['address']),
    website: textOrNone(values['website']),
    holidays: String(values['holidays'] ?? '')
      .split(/[\s,;]+/)
      .filter((day) => day !== ''),
  };
}

/** How a maker is reached, as its form writes it. */
export function reachValues(maker: MakerSummary): Values {
  const { version, channel, sendsPerMinute } = maker;
  return {
    version,
    channel,
    sendsPerMinute,
    endpoint: maker.endpoint ?? '',
    orderEmail: maker.orderEmail ?? '',
  };
}

/** The same in the shape of the contract. */
export function shapeReach(values: Values): Values {
  return {
    ...values,
    endpoint: textOrNone(values['endpoint']),
    orderEmail: textOrNone(values['orderEmail']),
  };
}
