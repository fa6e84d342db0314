import { describe, expect, test } from 'vitest';
import { emptyCalm, followCalm, stepSince } from '../../../shared/watch/calm.ts';
import { evidenceFor } from '../../../shared/watch/evidence.ts';
import { nameBest } from '../../../shared/watch/ranking.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const HOUR_MS = 3_600_000;

describe('how the spectrum stood before', () => {
  test('is the mean of ten quiet scans, and a scan that is not quiet takes no part', () => {
    const memory = draft(chamber);
    memory.calm = emptyCalm();
    for (let i = 0; i < 12; i++) {
      const frame = frameOf(chamber, { 18: i === 5 ? 1e-6 : 1e-10 }, { memory, times: 1 });
      followCalm(frame, i !== 5);
      expect(memory.calm.before === null).toBe(i < 10);
    }
    const m = chamber.memory && frameOf(chamber, {}).baseline.masses.indexOf(18) + 1;
    expect(memory.calm.before!.deviation[m]! / 1e-10).toBeCloseTo(1, 6);
  });

  test('begins anew in another state', () => {
    const memory = draft(chamber);
    const frame = frameOf(chamber, {}, { memory, times: 1 });
    followCalm(frame, true);
    const { footing } = memory.calm;
    memory.calm = { ...emptyCalm(), state: 'gas-on', footing };
    followCalm(frame, false);
    expect(memory.calm).toEqual({ ...emptyCalm(), state: 'base', footing });
  });

  test('begins anew with another calibration', () => {
    const memory = draft(chamber);
    for (let i = 0; i < 12; i++) followCalm(frameOf(chamber, {}, { memory, times: 1 }), true);
    expect(memory.calm.before).not.toBeNull();
    memory.calibration = 'another';
    followCalm(frameOf(chamber, {}, { memory, times: 1 }), false);
    expect(memory.calm.before).toBeNull();
  });

  test('a step is the difference, and holds the less of the breathing the younger it is: √(1 − exp(−2Δt/τ)), τ 5 h', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const before = { deviation: [0, 1, 2], atMs: 0, footing: `${memory.calibration} ${baseline.sinceMs}` };
    const at = (atMs: number) => ({ memory, baseline, atMs });
    const step = stepSince(before, Float64Array.from([0, 5, 2]), at(HOUR_MS))!;
    expect([...step.change]).toEqual([0, 4, 0]);
    expect(step.breathing).toBeCloseTo(Math.sqrt(1 - Math.exp(-0.4)), 9);
    expect(stepSince(before, Float64Array.from([0, 5, 2]), at(60_000))!.breathing).toBe(0.3);
    expect(stepSince(before, new Float64Array(3), at(5 * HOUR_MS))).toBeNull();
    expect(stepSince(before, new Float64Array(4), at(HOUR_MS))).toBeNull();
    expect(stepSince(null, new Float64Array(3), at(HOUR_MS))).toBeNull();
    expect(stepSince({ ...before, footing: 'another' }, new Float64Array(3), at(HOUR_MS))).toBeNull();
  });
});

describe('light gases in the order of their masses', () => {
  const { mean, masses, own } = draft(chamber).baselines.base!;
  const usual = (gas: string) => own.find((entry) => entry.gas === gas)!;
  /** Every gas up by its own share, on the chamber's own peaks. */
  function risen(shares: Record<string, number>) {
    const frame = frameOf(chamber, {});
    const change: Record<number, number> & { gauge?: number } = { gauge: 0 };
    for (const { own: gas, channels } of frame.reference.spectra) {
      const share = shares[gas.gas] ?? 0;
      masses.forEach((mass, i) => {
        change[mass] = (change[mass] ?? 0) + share * channels[i + 1]!;
      });
      change.gauge! += share * channels[0]!;
    }
    return frameOf(chamber, change);
  }
  function name(shares: Record<string, number>) {
    const frame = risen(shares);
    const step = { change: frame.middle, breathing: 0.3 };
    const [best] = nameBest(frame, { change: frame.middle, lane: 'scan', fall: false, step }).candidates;
    return [best!.cause.signature, best!.variant.pump];
  }

  test('are a pump; hydrogen alone is hydrogen', () => {
    expect(mean[masses.indexOf(2) + 1]!).toBeGreaterThan(0);
    expect(usual('H2').clarity).toBeGreaterThan(30);
    // exp(−0.5 (√M − √2)) of M 2, 16, 18, 28, 44
    expect(name({ H2: 1, CH4: 0.27, H2O: 0.24, CO: 0.14, N2: 0.14, CO2: 0.07 })).toEqual([
      'pumping-loss',
      'light-first',
    ]);
    expect(name({ H2: 1 })[0]).toBe('hydrogen');
  });

  test('also where the gauge makes less of the gases than their factors say, and helium stands still', () => {
    // Factors of a hot-cathode gauge differ by 15 % from gauge to gauge and by more from light gas to heavy (Redhead).
    const frame = risen({ H2: 1, CH4: 0.27, H2O: 0.24, CO: 0.14, N2: 0.14, CO2: 0.07, He: 0 });
    const change = Float64Array.from(frame.middle);
    change[0]! *= 0.75;
    const step = { change, breathing: 0.3 };
    const [best] = nameBest(frame, { change, lane: 'scan', fall: false, step }).candidates;
    expect(best!.cause.signature).toBe('pumping-loss');
  });

  test('say so gas by gas in the evidence', () => {
    const frame = risen({ H2: 1, CH4: 0.27, H2O: 0.24, CO: 0.14, N2: 0.14, CO2: 0.07 });
    const step = { change: frame.middle, breathing: 0.3 };
    const naming = nameBest(frame, { change: frame.middle, lane: 'scan', fall: false, step });
    const candidate = naming.candidates[0]!;
    const rows = evidenceFor({ frame, signature: 'pumping-loss', gases: [], change: frame.middle, naming, candidate });
    const hydrogen = rows.find((row) => row.name === 'Hydrogen against its usual')!;
    expect(hydrogen.value!).toBeCloseTo(2, 1);
    expect(hydrogen.verdict).toBe('as foretold');
    expect(rows.find((row) => row.name === 'Carbon dioxide against its usual')!.value!).toBeLessThan(1.15);
  });

  test('with carbon monoxide and nitrogen but no methane a getter, with nitrogen but no water a cryopump', () => {
    expect(name({ CO: 1, CO2: 0.8, N2: 0.5, H2: 0.25, H2O: 0.2 })).toEqual(['pumping-loss', 'getter']);
    expect(name({ H2: 1, CO: 1, N2: 1, O2: 1, Ar: 1, CH4: 0.7 })).toEqual(['pumping-loss', 'cryopump']);
  });
});
