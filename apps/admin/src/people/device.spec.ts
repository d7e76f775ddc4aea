import { describe, expect, it } from 'vitest';
import { deviceInWords } from './device';

describe('what a browser says of itself', () => {
  it.each([
    [
      'Mozilla/5.0 (X11; Linux x86_64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/156.0 Safari/537.36',
      'Chrome, Linux',
    ],
    [
      'Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 Chrome/150.0 Mobile Safari/537.36',
      'Chrome, Android',
    ],
    ['Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:140.0) Gecko/20100101 Firefox/140.0', 'Firefox, Windows'],
    ['lightMyRequest', 'lightMyRequest'],
  ])('%s reads "%s"', (device, words) => {
    expect(deviceInWords(device)).toBe(words);
  });
});
