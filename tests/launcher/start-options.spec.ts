import { describe, expect, it } from 'vitest';
import { readStartOptions } from '../../apps/launcher/src/start-options.mjs';

describe('the options of npm start', () => {
  it('need nothing', () => {
    expect(readStartOptions([], {})).toMatchObject({
      port: 4180,
      host: '127.0.0.1',
      demo: true,
      fresh: false,
      databaseUrl: null,
    });
  });

  it.each([
    [{}, true],
    [{ LENSFERRY_DEMO: '0' }, false],
    [{ DATABASE_URL: 'postgresql://db/x' }, false],
    [{ DATABASE_URL: 'postgresql://db/x', LENSFERRY_DEMO: '1' }, true],
  ])('with %j load the demo: %s', (env, demo) => {
    expect(readStartOptions([], env).demo).toBe(demo);
  });

  it('name everything that is wrong in one sentence', () => {
    const env = { PORT: '99999', DATABASE_URL: 'mysql://x', REDIS_URL: 'x' };
    const sentence = messageOf(() => readStartOptions(['--frsh'], env));
    for (const words of ['--frsh', 'PORT', '99999', 'DATABASE_URL', 'REDIS_URL'])
      expect(sentence).toContain(words);
    expect(sentence.split('\n')).toHaveLength(1);
  });

  it.each(['0', '-1', '80.5', 'http', '65536'])('refuse PORT=%s', (PORT) => {
    expect(() => readStartOptions([], { PORT })).toThrow(/PORT must be a whole number from 1 to 65535/);
  });

  it('refuse to empty a database that is not theirs', () => {
    expect(() => readStartOptions(['--fresh'], { DATABASE_URL: 'postgresql://db/x' })).toThrow(
      /--fresh empties only the embedded/,
    );
  });
});

function messageOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    return (error as Error).message;
  }
  throw new Error('Nothing was refused.');
}
