import { describe, expect, test } from 'vitest';
import { duration, list, number, pascal, times, withInterval } from '../../../shared/watch/wording.ts';

describe('numbers as they are said', () => {
  test.each([
    [1.1e-7, '1.1×10⁻⁷'],
    [9.96e-8, '1.0×10⁻⁷'],
    [2.34e-9, '2.3×10⁻⁹'],
    [0.0334, '0.033'],
    [0.83, '0.83'],
    [12.4, '12'],
    [640, '640'],
    [12_400, '1.2×10⁴'],
    [-3.2e-10, '−3.2×10⁻¹⁰'],
    [0, '0'],
  ])('%d is %s', (value, said) => expect(number(value)).toBe(said));

  test('an interval in the power of its number, or written out across powers', () => {
    expect(withInterval(1.1e-7, 0.8e-7, 1.5e-7, 'Pa·m³/s')).toBe('1.1×10⁻⁷\u00a0Pa·m³/s (0.8–1.5)');
    expect(withInterval(3e-9, 8e-11, 1.2e-6, 'Pa')).toBe('3.0×10⁻⁹\u00a0Pa (8.0×10⁻¹¹ to 1.2×10⁻⁶)');
    expect(withInterval(3e-9, 0, 6e-9, 'Pa')).toBe('3.0×10⁻⁹\u00a0Pa (at most 6.0×10⁻⁹)');
    expect(withInterval(0.8, 0.7, 0.9, 'Pa')).toBe('0.8\u00a0Pa (0.7–0.9)');
  });

  test('a unit stands after a no-break space', () => expect(pascal(2e-6)).toBe('2.0×10⁻⁶\u00a0Pa'));

  test.each([
    [1.42, '1.4 times'],
    [39.4, '39 times'],
    [9.97, '10 times'],
    [1234, '1\u202f200 times'],
  ])('a factor of %d is %s', (factor, said) => expect(times(factor)).toBe(said));

  test.each([
    [1, '1 second'],
    [89, '89 seconds'],
    [40 * 60, '40 minutes'],
    [3 * 3600, '3 hours'],
    [9 * 86_400, '9 days'],
  ])('%i s is %s', (seconds, said) => expect(duration(seconds)).toBe(said.replace(' ', '\u00a0')));

  test('a list', () => {
    expect([list([]), list(['a']), list(['a', 'b', 'c'])]).toEqual(['', 'a', 'a, b and c']);
  });
});
