import { expect, test } from 'vitest';
import { sayDuration, sayPressure, sayRatio, sayTimes } from '../../../shared/measurement/say.ts';

test.each([
  [0.255, '0.26 s'],
  [8.5, '8.5 s'],
  [119, '119 s'],
  [272, '4.5 min'],
  [3 * 3600, '3 h'],
  [40 * 86_400, '40 d'],
])('%d s is %s', (seconds, said) => {
  expect(sayDuration(seconds)).toBe(said);
});

test('pressures, ratios and counts', () => {
  // 1 mbar is 100 Pa.
  expect(sayPressure(2.34e-7, 'mbar')).toBe('2.3e-9 mbar');
  expect(sayRatio(5.04)).toBe('5 times');
  expect(sayRatio(1234)).toBe('1234 times');
  expect(sayTimes(1, 'sweep')).toBe('1 sweep');
  expect(sayTimes(3200, 'sweep')).toBe('3,200 sweeps');
});
