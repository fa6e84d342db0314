import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ago, duration, isOld } from '../../web/notation/age.ts';
import { gasLabel, gasSpoken, gasTitle, withSubscripts } from '../../web/notation/gas.ts';
import { factor, plain, scientific, scientificRange, timesInWords } from '../../web/notation/number.ts';
import { pressure, reportedPressure } from '../../web/notation/pressure.ts';
import { listed, sentenceIn, several } from '../../web/notation/sentence.ts';
import {
  clockFields,
  clockTime,
  fieldInstant,
  fieldValue,
  knownZone,
  moment,
  offsetText,
  withLocalTimes,
} from '../../web/notation/time.ts';

const DIGITS = '⁰¹²³⁴⁵⁶⁷⁸⁹';
/** Reads what `scientific` writes, the way a person would. */
const readBack = (text: string): number => {
  const [mantissa = '', power] = text.replace('−', '-').split('×10');
  const exponent = [...(power ?? '⁰')].map((sign) => (sign === '⁻' ? '-' : DIGITS.indexOf(sign))).join('');
  return Number(mantissa) * 10 ** Number(exponent);
};

const plottable = fc.double({ min: 1e-14, max: 1e5, noNaN: true, noDefaultInfinity: true });

describe('numbers', () => {
  test('carry two digits and real signs', () => {
    expect(scientific(3.1e-8)).toBe('3.1×10⁻⁸');
    expect(scientific(9.96e-8)).toBe('1.0×10⁻⁷');
    expect(scientific(4.2)).toBe('4.2');
    expect(plain(0.0124, 3)).toBe('0.0124');
    expect(plain(1700)).toBe('1\u202f700');
    expect(plain(2e-6)).toBe('2.0×10⁻⁶');
    expect(scientificRange(0.8e-7, 1.5e-7)).toBe('0.8–1.5×10⁻⁷');
    expect(scientificRange(8e-10, 1.2e-8)).toBe('8.0×10⁻¹⁰ to 1.2×10⁻⁸');
  });

  test('what is written can be read back to within the rounding', () => {
    fc.assert(
      fc.property(plottable, (value) => {
        const back = readBack(scientific(value));
        expect(Math.abs(back / value - 1)).toBeLessThanOrEqual(0.051);
        expect(scientific(value)).not.toMatch(/e|NaN|10\.0/);
      }),
    );
  });

  test('factors have one decimal below 1.95 and two digits above', () => {
    expect(factor(Math.log10(39))).toBe('×39');
    expect(factor(Math.log10(1 / 2.5))).toBe('÷2.5');
    expect(factor(Math.log10(1.24))).toBe('×1.2');
    expect(factor(Math.log10(6))).toBe('×6');
    expect(factor(Math.log10(1742))).toBe('×1\u202f700');
    expect(timesInWords(Math.log10(39))).toBe('39 times');
  });
});

describe('pressures', () => {
  const found = { value: 3.1e-8, low: 2.4e-8, high: 3.9e-8, detected: true };
  test('stand with their interval in the same power', () => {
    expect(reportedPressure(found, 'Pa')).toBe('3.1×10⁻⁸\u00a0Pa (2.4–3.9)');
    expect(reportedPressure(found, 'mbar')).toBe('3.1×10⁻¹⁰\u00a0mbar (2.4–3.9)');
    expect(reportedPressure({ ...found, low: 8e-10, high: 1.2e-7 }, 'Pa')).toBe(
      '3.1×10⁻⁸\u00a0Pa (8.0×10⁻¹⁰ to 1.2×10⁻⁷)',
    );
  });
  test('three digits where the interval is narrower than 5 %', () => {
    expect(reportedPressure({ ...found, low: 3.08e-8, high: 3.13e-8 }, 'Pa')).toBe('3.10×10⁻⁸\u00a0Pa (3.08–3.13)');
  });
  test('below detection, not measured and zero are three different things, and zero is never written', () => {
    expect(reportedPressure({ value: 0, low: 0, high: 3e-11, detected: false }, 'Pa')).toBe('below 3.0×10⁻¹¹\u00a0Pa');
    expect(reportedPressure({ value: null, low: null, high: null, detected: false }, 'Pa')).toBe('not measured');
    expect(reportedPressure(undefined, 'Pa')).toBe('not measured');
    expect(pressure(0, 'Pa')).toBe('below detection');
  });
});

describe('ages', () => {
  test('have at most two parts', () => {
    expect(duration(12)).toBe('12\u00a0s');
    expect(duration(47 * 60)).toBe('47\u00a0min');
    expect(duration(6 * 3600 + 12 * 60)).toBe('6\u00a0h 12\u00a0min');
    expect(duration(30 * 3600)).toBe('30\u00a0h');
    expect(duration(3 * 86_400 + 4 * 3600)).toBe('3\u00a0d 4\u00a0h');
    expect(duration(41 * 86_400)).toBe('41\u00a0d');
    expect(ago(-5)).toBe('0\u00a0s ago');
  });
  test('a scan is old after three of its periods', () => {
    expect(isOld(179, 60)).toBe(false);
    expect(isOld(181, 60)).toBe(true);
    expect(isOld(599, null)).toBe(false);
  });
});

describe('gases', () => {
  test('are written with subscripts and said in words', () => {
    expect(gasLabel('H2O')).toBe('H₂O');
    expect(gasLabel('C10H22')).toBe('C₁₀H₂₂');
    expect(gasLabel('hydrocarbon-oil')).toBe('oil');
    expect(gasTitle('hydrocarbon-oil')).toBe('hydrocarbon oil');
    expect(gasSpoken('N2')).toBe('nitrogen');
    expect(gasSpoken('WF6')).toBe('WF₆');
  });
  test('a formula inside a sentence gets its subscripts, a version number does not', () => {
    expect(withSubscripts('N2 and CO2 rose; valve V2 at 12 h')).toBe('N₂ and CO₂ rose; valve V2 at 12 h');
  });
});

describe('sentences of the server', () => {
  const text = 'Pump oil: 2.3×10⁻⁹ Pa (1.6–3.2); leak 1.1×10⁻⁷ Pa·m³/s (0.8–1.5).';
  test('speak in the unit of the reader, and leak rates stay what they are', () => {
    expect(sentenceIn(text, 'mbar')).toBe(
      'Pump oil: 2.3×10⁻¹¹\u00a0mbar (1.6–3.2); leak 1.1×10⁻⁷\u00a0Pa·m³/s (0.8–1.5).',
    );
    expect(sentenceIn('1.0×10⁻⁷ Pa', 'Torr')).toBe('7.5×10⁻¹⁰\u00a0Torr');
    expect(sentenceIn(text, 'Pa')).toContain('2.3×10⁻⁹\u00a0Pa (1.6–3.2)');
  });
  test('numbers of programs become numbers of people', () => {
    expect(sentenceIn('they make 1.4e-7 Pa', 'Pa')).toBe('they make 1.4×10⁻⁷\u00a0Pa');
  });
  test('counts and lists', () => {
    expect(several(1, 'chamber')).toBe('1 chamber');
    expect(several(3, 'gas', 'gases')).toBe('3 gases');
    expect(listed(['nitrogen', 'oxygen', 'argon'])).toBe('nitrogen, oxygen and argon');
  });
});

describe('times', () => {
  const friday = Date.UTC(2026, 10, 27, 5, 4);
  test('are on the clock of the zone, with its offset', () => {
    expect(clockTime(friday, 'Europe/Oslo')).toBe('06:04');
    expect(offsetText(friday, 'Europe/Oslo')).toBe('+01:00');
    expect(offsetText(friday, 'America/St_Johns')).toBe('−03:30');
    expect(moment(friday - 7 * 3600_000, 'Europe/Oslo', friday)).toBe('Thu 23:04');
    expect(moment(friday - 9 * 86_400_000, 'Europe/Oslo', friday)).toBe('18 Nov 06:04');
    expect(knownZone('Atlantis/Nowhere')).toBe('UTC');
  });

  test('midnight is hour 0', () => {
    expect(clockFields(Date.UTC(2026, 0, 1), 'UTC').hour).toBe(0);
  });

  test('what a field shows leads back to the same minute, in any zone and across changes of clocks', () => {
    const zones = ['UTC', 'Europe/Oslo', 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu'];
    fc.assert(
      fc.property(fc.integer({ min: 1.7e9, max: 2e9 }), fc.constantFrom(...zones), (seconds, zone) => {
        const ms = Math.floor(seconds / 60) * 60_000;
        const back = fieldInstant(fieldValue(ms, zone), zone);
        // An hour that the clock shows twice may come back as the other one, which shows the same.
        expect(back).not.toBeNull();
        expect(fieldValue(back ?? 0, zone)).toBe(fieldValue(ms, zone));
      }),
    );
  });

  test('nonsense in a field is no time', () => {
    for (const text of ['', 'tomorrow', '2026-06-31 10:00', '2026-11-27', '2026-11-27 25:00']) {
      expect(fieldInstant(text, 'UTC')).toBeNull();
    }
  });

  test('instants in a refusal are shown on the clock of the reader', () => {
    expect(withLocalTimes('already acknowledged by jr at 2026-11-27T05:03:51.000Z', 'Europe/Oslo', friday)).toBe(
      'already acknowledged by jr at 06:03',
    );
  });
});
