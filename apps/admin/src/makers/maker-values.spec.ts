import { describe, expect, it } from 'vitest';
import { EditMaker, ReachMaker, type MakerSummary } from '@lensferry/contracts';
import { agreedValues, reachValues, shapeAgreed, shapeReach } from './maker-values';

const maker = {
  version: 3,
  contact: 'desk@tideway.example',
  currency: 'EUR',
  returnWindowDays: 60,
  timeZone: 'Europe/Lisbon',
  cutOff: null,
  holidays: ['2026-12-24', '2026-12-25'],
  terms: null,
  address: null,
  website: null,
  channel: 'email',
  endpoint: null,
  orderEmail: 'orders@tideway.example',
  sendsPerMinute: 30,
} as unknown as MakerSummary;

describe('a maker in its forms', () => {
  it('goes in and comes out the same', () => {
    const { cutOff, terms, address, website, holidays } = maker;
    expect(EditMaker.parse(shapeAgreed(agreedValues(maker)))).toMatchObject({
      cutOff,
      terms,
      address,
      website,
      holidays,
    });
    expect(ReachMaker.parse(shapeReach(reachValues(maker)))).toMatchObject({
      channel: 'email',
      endpoint: null,
      orderEmail: maker.orderEmail,
    });
  });

  it('takes holidays with lines, commas or semicolons between, and refuses what is no day', () => {
    const shaped = shapeAgreed({ ...agreedValues(maker), holidays: '2027-01-01, 2027-04-02;\n2027-05-01' });
    expect(shaped['holidays']).toEqual(['2027-01-01', '2027-04-02', '2027-05-01']);
    const wrong = shapeAgreed({ ...agreedValues(maker), holidays: '1 January' });
    expect(EditMaker.safeParse(wrong).success).toBe(false);
  });
});
