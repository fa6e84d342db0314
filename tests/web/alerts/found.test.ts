import { describe, expect, test } from 'vitest';
import type { Evidence } from '../../../shared/contract/alerts.ts';
import { expectedText, foundText } from '../../../web/alerts/found.ts';

const line = (numbers: Partial<Evidence>): Evidence => ({
  name: 'Ar to N2',
  value: null,
  unit: '1',
  expected: null,
  verdict: 'as in air',
  ...numbers,
});

describe('words of evidence', () => {
  test('a pressure is in the unit of the reader, and so is what was expected', () => {
    const nitrogen = line({
      value: 3.3e-7,
      low: 3.1e-7,
      high: 3.5e-7,
      unit: 'Pa',
      expected: '6.2e-8–1.2e-7',
      expectedLow: 6.2e-8,
      expectedHigh: 1.2e-7,
    });
    expect(foundText(nitrogen, 'mbar')).toEqual({ number: '3.3×10⁻⁹ (3.1–3.5)', unit: 'mbar' });
    expect(expectedText(nitrogen, 'mbar')).toBe('0.6–1.2×10⁻⁹');
  });
  test('ratios are plain numbers with enough digits to be compared', () => {
    const ratio = line({ value: 0.0124, low: 0.0108, high: 0.0141, expectedLow: 0.0115, expectedHigh: 0.0128 });
    expect(foundText(ratio, 'Pa').number).toBe('0.0124 (0.0108–0.0141)');
    expect(expectedText(ratio, 'Pa')).toBe('0.0115–0.0128');
    // Both bounds to the same decimal, as drawn in the design of the evidence table.
    const range = (expectedLow: number, expectedHigh: number) =>
      expectedText(line({ expectedLow, expectedHigh }), 'Pa');
    expect(range(0.003, 0.0037)).toBe('0.0030–0.0037');
    expect(range(0.115, 0.15)).toBe('0.115–0.150');
    expect(range(0.9, 1.1)).toBe('0.9–1.1');
    expect(range(3, 12)).toBe('3–12');
    expect(range(9, 1200)).toBe('9–1\u202f200');
  });
  test('a leak rate keeps its own unit', () => {
    expect(foundText(line({ value: 1.1e-7, low: 0.8e-7, high: 1.5e-7, unit: 'Pa*m3/s' }), 'mbar')).toEqual({
      number: '1.1×10⁻⁷ (0.8–1.5)',
      unit: 'Pa·m³/s',
    });
  });
  test('zero is never written, and no answer is said to be none', () => {
    expect(foundText(line({ value: 0, low: 0, high: 1.3e-4 }), 'Pa').number).toBe('below 1.3×10⁻⁴');
    expect(foundText(line({ high: 0.0073 }), 'Pa').number).toBe('below 0.0073');
    expect(foundText(line({}), 'Pa').number).toBe('cannot tell');
    expect(expectedText(line({ expected: 'above 12' }), 'Pa')).toBe('above 12');
    expect(expectedText(line({}), 'Pa')).toBe('—');
  });
});
