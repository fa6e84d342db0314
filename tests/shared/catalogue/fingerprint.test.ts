/** Test vectors: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash Algorithm", appendix C. */
import { describe, expect, test } from 'vitest';
import { fingerprint } from '../../../shared/catalogue/fingerprint.ts';

describe('fingerprint', () => {
  test.each([
    ['', '811c9dc5'],
    ['a', 'e40c292c'],
    ['foobar', 'bf9cf968'],
  ])('FNV-1a, 32 bit, of "%s" is %s', (text, expected) => {
    expect(fingerprint(text)).toBe(expected);
  });

  test('one digit changes it', () => {
    expect(fingerprint('{"28":100}')).not.toBe(fingerprint('{"28":101}'));
  });
});
