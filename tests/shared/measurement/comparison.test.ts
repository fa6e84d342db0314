/**
 * Truth is known by construction: scans are simulated, seeds fixed. Outside: that hot ionisers make CO and CO2, four
 * fifths and more of what was measured in one study (RAL-TR-2016-008, abstract): a factor of five.
 */
import { describe, expect, test } from 'vitest';
import { type ComparisonAnswer, compare, sayRefusal } from '../../../shared/measurement/comparison.ts';
import type { ComparedScan, SensitivityError } from '../../../shared/measurement/gasSeries.ts';
import { normals } from './normals.ts';

interface Simulated {
  /** Pa, or an upper limit. */
  gases: Record<string, number | { below: number }>;
  /** Relative standard deviation of the absolute interval beyond noise. */
  lasting?: number;
  noise?: number;
  scans?: number;
  startMs?: number;
  seed?: number;
  /** The same of every gas. */
  errors?: SensitivityError;
  /** Multiplies every gas at a time, as the chamber does. */
  chamber?: (minute: number) => number;
}

const scansOf = ({ gases, lasting = 0.1, noise = 0.01, scans = 120, startMs = 0, seed = 1, chamber }: Simulated) => {
  const next = normals(seed);
  return Array.from({ length: scans }, (_, k): ComparedScan => {
    const scale = chamber?.(k) ?? 1;
    return {
      atMs: startMs + k * 60_000,
      gases: Object.entries(gases).map(([gas, pressure]) => {
        if (typeof pressure !== 'number') return { gas, valuePa: 0, lowPa: 0, highPa: pressure.below, detected: false };
        const valuePa = pressure * scale * (1 + noise * next());
        const reach = Math.exp(1.96 * Math.hypot(lasting, noise));
        return { gas, valuePa, lowPa: valuePa / reach, highPa: valuePa * reach, detected: true };
      }),
    };
  });
};

const names: Record<string, string> = { N2: 'nitrogen', CO: 'carbon monoxide', H2O: 'water' };
const nameOf = (gas: string) => names[gas] ?? gas;

const side = (analyser: string, simulated: Simulated) => ({
  analyser,
  scans: scansOf(simulated),
  sensitivityErrors: simulated.errors
    ? Object.fromEntries(Object.keys(simulated.gases).map((gas) => [gas, simulated.errors!]))
    : null,
});

const compared = (first: Simulated, second: Simulated, relativeTo = 'N2') =>
  compare({
    first: side('one', { seed: 1, ...first }),
    second: side('two', { seed: 2, startMs: 20_000, ...second }),
    relativeTo,
    nameOf,
  });
const answered = (found: ReturnType<typeof compare>): ComparisonAnswer => {
  if ('refused' in found) throw new Error(`refused: ${found.refused}`);
  return found;
};
const gasIn = (found: ComparisonAnswer, gas: string) => found.gases.find((one) => one.gas === gas)!;

const HOLDS = { N2: 2e-8, H2O: 5e-8, Ar: 3e-10, O2: 5e-9, CO: 1e-9 };

describe('which adds gas of its own', () => {
  test('the one that shows five times the CO, against nitrogen, whatever its sensitivity', () => {
    // The second reads everything at 0.4 of the first.
    const second = { N2: 0.8e-8, H2O: 2e-8, Ar: 1.2e-10, O2: 2e-9, CO: 2e-9 };
    const found = answered(compared({ gases: HOLDS }, { gases: second }));
    const co = gasIn(found, 'CO');
    expect(co.ratio).toBeCloseTo(5, 0);
    expect(co.differs).toBe('yes');
    expect(co.verdict).toMatch(/^two shows (4\.9|5|5\.1) times as much \(/);
    expect(gasIn(found, 'H2O')).toMatchObject({ differs: 'no' });
    expect(found.addsGas).toEqual({ analyser: 'two', gases: ['CO'] });
    expect(found.verdict).toMatch(/^two most likely adds carbon monoxide of its own/);
  });

  test('a small excess is told more carefully', () => {
    const found = answered(compared({ gases: HOLDS }, { gases: { ...HOLDS, CO: 1.8e-9 } }));
    expect(found.addsGas).toEqual({ analyser: 'two', gases: ['CO'] });
    expect(found.verdict).toMatch(/^two may well add carbon monoxide of its own/);
    expect(gasIn(found, 'H2O').verdict).toMatch(
      /^No difference that can be told: two shows (0\.99|1) times as much \(/,
    );
  });

  test('the first, when the second shows less', () => {
    const found = answered(compared({ gases: { ...HOLDS, CO: 6e-9 } }, { gases: HOLDS }));
    expect(found.addsGas).toEqual({ analyser: 'one', gases: ['CO'] });
    expect(gasIn(found, 'CO').verdict).toMatch(/^one shows (5\.9|6|6\.1) times as much/);
  });

  test('neither, when each has more of one of them', () => {
    const found = answered(compared({ gases: { ...HOLDS, CH4: 1e-8 } }, { gases: { ...HOLDS, CH4: 1e-9, CO: 1e-8 } }));
    expect(found.addsGas).toBeNull();
    expect(found.verdict).toContain('neither can be called the cleaner one');
  });

  test('neither, when the gas that all is compared with is one that ionisers make', () => {
    const found = answered(compared({ gases: HOLDS }, { gases: { ...HOLDS, CO: 1e-8, H2: 1e-8 } }, 'CO'));
    expect(found.addsGas).toBeNull();
    const both = answered(
      compared({ gases: { ...HOLDS, H2: 1e-8 } }, { gases: { ...HOLDS, CO: 1e-8, H2: 1e-8 } }, 'CO'),
    );
    expect(both.addsGas).toBeNull();
    expect(both.verdict).toContain('choose water, nitrogen or argon');
  });

  test('neither, when everything differs the same way: then the chosen gas is to blame', () => {
    const second = Object.fromEntries(Object.entries(HOLDS).map(([gas, p]) => [gas, gas === 'N2' ? p : 6 * p]));
    const found = answered(compared({ gases: HOLDS }, { gases: second }));
    expect(found.addsGas).toBeNull();
    expect(found.verdict).toContain('it may be nitrogen that the two see differently');
  });

  test('a gas that ionisers do not make is a difference and accuses nobody', () => {
    const found = answered(compared({ gases: HOLDS }, { gases: { ...HOLDS, H2O: 5e-7 } }));
    expect(found.addsGas).toBeNull();
    expect(found.verdict).toMatch(/^They differ in water against nitrogen/);
  });
});

describe('one that does not see a gas bounds the ratio', () => {
  test('from below when it is the first', () => {
    const found = answered(compared({ gases: { ...HOLDS, CO: { below: 1e-10 } } }, { gases: HOLDS }));
    const co = gasIn(found, 'CO');
    expect(co).toMatchObject({ ratio: null, ratioHigh: null, differs: 'yes' });
    expect(co.ratioLow).toBeGreaterThan(5);
    expect(co.ratioLow).toBeLessThan(10);
    expect(co.first).toEqual({ valuePa: null, lowPa: 0, highPa: 1e-10, detectedShare: 0 });
  });

  test('from above when it is the second, and a loose limit tells nothing', () => {
    const found = answered(compared({ gases: HOLDS }, { gases: { ...HOLDS, CO: { below: 1e-10 } } }));
    expect(gasIn(found, 'CO')).toMatchObject({ ratio: null, ratioLow: 0, differs: 'yes' });
    const loose = answered(compared({ gases: HOLDS }, { gases: { ...HOLDS, CO: { below: 1e-8 } } }));
    expect(gasIn(loose, 'CO').differs).toBe('cannot tell');
  });

  test('neither sees it: cannot tell', () => {
    const none = { gases: { ...HOLDS, CO: { below: 1e-10 } } };
    expect(gasIn(answered(compared(none, none)), 'CO')).toMatchObject({
      differs: 'cannot tell',
      verdict: 'Neither sees it.',
    });
    const unlooked = { N2: HOLDS.N2, H2O: HOLDS.H2O };
    expect(gasIn(answered(compared({ gases: HOLDS }, { gases: unlooked })), 'CO')).toMatchObject({
      differs: 'cannot tell',
      second: { detectedShare: 0, valuePa: null },
    });
  });
});

describe('intervals', () => {
  test('do not shrink with the number of scans where sensitivity is what is open', () => {
    const wide = { lasting: 0.3, noise: 0.01 };
    const ratioOf = (scans: number) =>
      gasIn(answered(compared({ gases: HOLDS, ...wide, scans }, { gases: HOLDS, ...wide, scans })), 'CO');
    // Four independent parts of 0.3 each: 95 % is a factor exp(1.96 · 0.6) = 3.24 either way.
    for (const scans of [40, 400]) {
      const { ratio, ratioLow, ratioHigh } = ratioOf(scans);
      expect(ratioHigh! / ratio!).toBeGreaterThan(3.1);
      expect(ratioHigh! / ratio!).toBeLessThan(3.4);
      expect(ratioLow).toBeCloseTo(ratio! ** 2 / ratioHigh!, 9);
    }
    expect(ratioOf(40).differs).toBe('no');
  });

  test('do shrink where noise is: 20 % a scan over 256 scans', () => {
    const noisy = { lasting: 0, noise: 0.2, scans: 256 };
    const { ratio, ratioHigh } = gasIn(
      answered(compared({ gases: HOLDS, ...noisy }, { gases: HOLDS, ...noisy })),
      'CO',
    );
    // One scan of each would leave four parts of 20 %: 1.96 · 0.4 = 0.78.
    expect(Math.log(ratioHigh! / ratio!)).toBeLessThan(0.3);
  });

  test('what the chamber does meanwhile is common to both', () => {
    const chamber = (minute: number) => 1 + 0.8 * Math.sin(minute / 9);
    const moving = { lasting: 0, noise: 0.02, scans: 256, chamber };
    const second = { ...moving, gases: { ...HOLDS, CO: 1.3e-9 }, startMs: 0 };
    const co = gasIn(answered(compared({ ...moving, gases: HOLDS }, second)), 'CO');
    expect(co.ratio).toBeCloseTo(1.3, 1);
    expect(Math.log(co.ratioHigh! / co.ratioLow!)).toBeLessThan(0.1);
    expect(co.differs).toBe('yes');
  });

  test('cover the truth in 92 to 99 % of pairs whose sensitivities are off by what the intervals say', () => {
    const RUNS = 300;
    const next = normals(77);
    const lasting = 0.15;
    const off = (gases: Record<string, number>) =>
      Object.fromEntries(Object.entries(gases).map(([gas, p]) => [gas, p * Math.exp(lasting * next())]));
    const covered = Array.from({ length: RUNS }, (_, k) => {
      const noisy = { lasting, noise: 0.05, scans: 64 };
      const first = { ...noisy, gases: off(HOLDS), seed: 1000 + k };
      const second = { ...noisy, gases: off({ ...HOLDS, CO: 2e-9 }), seed: 5000 + k };
      const { ratioLow, ratioHigh } = gasIn(answered(compared(first, second)), 'CO');
      return ratioLow! <= 2 && 2 <= ratioHigh!;
    });
    const share = covered.filter(Boolean).length / RUNS;
    expect(share).toBeGreaterThan(0.92);
    expect(share).toBeLessThan(0.99);
  });

  test('cover as well when gain and catalogue, which drop out, are most of the absolute error', () => {
    const RUNS = 300;
    const next = normals(78);
    const [own, catalogue, gain] = [0.12, 0.3, 0.35];
    const ratio = Math.hypot(own, catalogue);
    const errors = { absolute: Math.hypot(ratio, gain), ratio, catalogue };
    const wide: number[] = [];
    const covered = Array.from({ length: RUNS }, (_, k) => {
      const shared = Object.fromEntries(Object.keys(HOLDS).map((gas) => [gas, catalogue * next()]));
      const off = (gases: Record<string, number>) => {
        const scale = gain * next();
        const by = (gas: string) => Math.exp(shared[gas]! + scale + own * next());
        return Object.fromEntries(Object.entries(gases).map(([gas, p]) => [gas, p * by(gas)]));
      };
      const noisy = { lasting: errors.absolute, errors, noise: 0.02, scans: 64 };
      const first = { ...noisy, gases: off(HOLDS), seed: 1000 + k };
      const second = { ...noisy, gases: off({ ...HOLDS, CO: 2e-9 }), seed: 5000 + k };
      const { ratioLow, ratioHigh } = gasIn(answered(compared(first, second)), 'CO');
      wide.push(ratioHigh! / ratioLow!);
      return ratioLow! <= 2 && 2 <= ratioHigh!;
    });
    const share = covered.filter(Boolean).length / RUNS;
    expect(share).toBeGreaterThan(0.92);
    expect(share).toBeLessThanOrEqual(0.99);
    // Four own errors of 12 %: e^(2 · 1.96 · 0.24).
    expect(wide.sort((a, b) => a - b)[RUNS / 2]).toBeCloseTo(2.56, 0);
  });

  test('too wide to see a factor of five: cannot tell', () => {
    const wide = { lasting: 0.6, gases: HOLDS };
    expect(gasIn(answered(compared(wide, wide)), 'CO').differs).toBe('cannot tell');
    expect(answered(compared(wide, wide)).verdict).toBe('Nothing can be told from this span.');
  });
});

describe('refused', () => {
  test('when the chosen gas is not seen by both', () => {
    const found = compared({ gases: HOLDS }, { gases: { ...HOLDS, N2: { below: 1e-9 } } });
    expect(found).toEqual({ refused: 'not detected' });
    expect(compared({ gases: HOLDS }, { gases: HOLDS }, 'He')).toEqual({ refused: 'not detected' });
    expect(sayRefusal('not detected')).toMatch(/not seen by both/);
  });

  test('when they did not measure at the same time, or hardly', () => {
    const later = { gases: HOLDS, startMs: 10 * 86_400_000 };
    expect(compared({ gases: HOLDS }, later)).toEqual({ refused: 'no common time' });
    expect(compared({ gases: HOLDS, scans: 3 }, { gases: HOLDS })).toEqual({ refused: 'no common time' });
    expect(compared({ gases: HOLDS, scans: 0 }, { gases: HOLDS })).toEqual({ refused: 'no common time' });
  });
});

test('the chosen gas is one to itself', () => {
  expect(gasIn(answered(compared({ gases: HOLDS }, { gases: HOLDS })), 'N2')).toMatchObject({
    ratio: 1,
    differs: 'no',
  });
});
