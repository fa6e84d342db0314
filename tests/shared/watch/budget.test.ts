/**
 * Thresholds from one budget. Normal tail areas: Abramowitz and Stegun, Handbook of Mathematical Functions (1964),
 * table 26.1: 1 − Φ(4) = 3.1671e-5, 1 − Φ(5) = 2.8665e-7.
 */
import { describe, expect, test } from 'vitest';
import { FALSE_ALARMS_PER_MONTH, shareIn, thresholdOf } from '../../../shared/watch/budget.ts';

const MONTH = 30 * 86_400;
/** Of the day lane, which carries no margin: the normal quantile itself. */
const day = (statistics: number, looks: number) =>
  thresholdOf('day', { statistics, onDelay: 1, periodSeconds: MONTH / looks });

describe('one budget of false alarms', () => {
  test('is shared out among statistics and looks: the threshold is the normal quantile of a share', () => {
    // 3 lanes × 10 statistics × n looks with 1 − Φ(z) each make 0.05 a month.
    expect(day(10, Math.round(FALSE_ALARMS_PER_MONTH / (30 * 2.8665e-7)))).toBeCloseTo(5, 3);
    expect(day(1, Math.round(FALSE_ALARMS_PER_MONTH / (3 * 3.1671e-5)))).toBeCloseTo(4, 3);
  });

  test('five minutes a scan and forty directions: about six sigma and six and a half', () => {
    const looks = { statistics: 40, onDelay: 3, periodSeconds: 300 };
    expect(thresholdOf('scan', looks)).toBeGreaterThan(5.9);
    expect(thresholdOf('scan', looks)).toBeLessThan(6.2);
    expect(thresholdOf('mean', looks)).toBeGreaterThan(6.4);
    expect(thresholdOf('mean', looks)).toBeLessThan(6.7);
  });

  test('more directions or more scans ask for more sigma, a longer on-delay for fewer', () => {
    const usual = { statistics: 40, onDelay: 3, periodSeconds: 300 };
    const of = (other: Partial<typeof usual>) => thresholdOf('scan', { ...usual, ...other });
    expect(of({ statistics: 80 })).toBeGreaterThan(of({}));
    expect(of({ periodSeconds: 60 })).toBeGreaterThan(of({}));
    expect(of({ onDelay: 8 })).toBeLessThan(of({}));
  });

  test('the shares of a month add up to the budget', () => {
    expect(shareIn(MONTH, 40) * 3 * 40).toBeCloseTo(FALSE_ALARMS_PER_MONTH, 12);
    expect(shareIn(MONTH / 90, 40) * 90).toBeCloseTo(shareIn(MONTH, 40), 12);
  });
});
