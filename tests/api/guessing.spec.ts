import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accountOfAddress } from '../../apps/api/dist/people/throttle.js';
import { ownHeader } from '../../apps/api/dist/platform/own-header.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { openHouse, password, type House } from '../support/house.js';

const proxy = '10.1.2.3';
const allowed = 50;

describe('guessing passwords from one address', () => {
  let house: House;
  const clock = new SetClock(new Date());
  beforeAll(async () => {
    house = await openHouse({ clock, environment: { TRUSTED_PROXIES: '10.1.0.0/16, 192.0.2.1' } });
  });
  afterAll(() => house?.close());

  const enter = async (
    email: string,
    { peer = proxy, says, given = password }: { peer?: string; says?: string; given?: string },
  ): Promise<number> => {
    const answer = await house.app.inject({
      method: 'POST',
      url: '/api/session',
      remoteAddress: peer,
      headers: { [ownHeader]: '1', ...(says === undefined ? {} : { 'x-forwarded-for': says }) },
      payload: { email, password: given },
    });
    return answer.statusCode;
  };

  it(
    'ends after fifty failures, whatever accounts they name, and for that address alone',
    { timeout: 120_000 },
    async () => {
      const guesser = '198.51.100.7';
      for (let n = 0; n < allowed; n += 1)
        expect(
          await enter(`nobody${n}@lensferry.example`, { says: guesser, given: 'not the password' }),
        ).toBe(401);
      expect(await enter('una@lensferry.example', { says: guesser })).toBe(429);
      // Only the last hop is the proxy's own word: what the guesser writes before it changes nothing.
      expect(await enter('una@lensferry.example', { says: `203.0.113.9, ${guesser}` })).toBe(429);
      expect(await enter('una@lensferry.example', { says: '198.51.100.8' })).toBe(200);
      // Whoever is no trusted proxy is its own address, whatever it says.
      expect(await enter('una@lensferry.example', { peer: '203.0.113.50', says: guesser })).toBe(200);
      expect(await enter('una@lensferry.example', { peer: guesser, says: '198.51.100.8' })).toBe(429);
      clock.set(new Date(clock.now().getTime() + 16 * 60_000));
      expect(await enter('una@lensferry.example', { says: guesser })).toBe(200);
    },
  );

  it('knows one network of IPv6 as one address, and IPv4 in either form', () => {
    expect(accountOfAddress('2001:db8:1:2:aaaa::1')).toBe(accountOfAddress('2001:DB8:1:2::ffff'));
    expect(accountOfAddress('2001:db8::1')).toBe(accountOfAddress('2001:0db8:0:0:5::'));
    expect(accountOfAddress('2001:db8:1:2::1')).not.toBe(accountOfAddress('2001:db8:1:3::1'));
    expect(accountOfAddress('::ffff:192.0.2.7')).toBe(accountOfAddress('192.0.2.7'));
    expect(accountOfAddress('::1')).toBe('from:0:0:0:0::/64');
  });
});
