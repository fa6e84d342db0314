/**
 * Names for made-up changes of a watched chamber. Ratios of fragments: NIST WebBook (14/28 of N2 0.138, 12/28 of CO
 * 0.047, 17/18 of water 0.212, 31/32 of methanol 1.34); air: US Standard Atmosphere 1976 with ion yields of the CRC Handbook.
 */
import { describe, expect, test } from 'vitest';
import { decide } from '../../../shared/watch/decide.ts';
import { explainedByStanding, leftShare, shapeSeen, tolerances } from '../../../shared/watch/explained.ts';
import { advanceLanes, judgeLanes } from '../../../shared/watch/lanes.ts';
import { nameChange } from '../../../shared/watch/naming.ts';
import { nullModel } from '../../../shared/watch/nullModel.ts';
import { DEAD_BAND, ON_DELAY } from '../../../shared/watch/parameters.ts';
import { groundOf } from '../../../shared/watch/ranking.ts';
import { leastAmplitude, onChamber, triggersOf } from '../../../shared/watch/triggers.ts';
import { along, makeWhitener } from '../../../shared/watch/whitening.ts';
import { draft, frameOf, peaks, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const base = 3e-9;
const changes: Record<string, [Record<number, number> & { gauge?: number }, string, string]> = {
  nitrogen: [{ ...peaks({ 28: 100, 14: 12, 29: 0.7 }, 4 * base), gauge: 1.2e-8 }, 'gas-inleak', 'N2'],
  'carbon monoxide': [
    { ...peaks({ 28: 100, 12: 5, 16: 1.7, 29: 1.2 }, 10 * base), gauge: 3e-8 },
    'carbon-oxides',
    'CO',
  ],
  air: [{ ...peaks({ 28: 100, 14: 11, 32: 24, 16: 4, 40: 1.6, 20: 0.2 }, base), gauge: 4e-9 }, 'air-leak', 'Ar'],
  'air without oxygen': [{ ...peaks({ 28: 100, 14: 11, 40: 1.8, 20: 0.2 }, 3 * base), gauge: 9e-9 }, 'air-leak', 'Ar'],
  methanol: [{ ...peaks({ 31: 100, 32: 70, 29: 50, 15: 14, 30: 7, 28: 6 }, base), gauge: 6e-9 }, 'solvent', 'CH3OH'],
  oil: [
    {
      ...peaks({ 43: 100, 41: 50, 57: 95, 55: 50, 71: 50, 69: 30, 39: 15, 29: 25, 27: 15, 85: 28 }, base),
      gauge: 2e-8,
    },
    'hydrocarbon-oil',
    'hydrocarbon-oil',
  ],
};

describe('causes compete', () => {
  test.each(Object.entries(changes))('%s', (_name, [change, signature, gas]) => {
    const frame = frameOf(chamber, change);
    const { candidates, nothing } = nameChange(frame, frame.middle, { lane: 'scan' });
    expect(candidates[0]!.cause.signature).toBe(signature);
    expect(candidates[0]!.variant.gases ?? candidates[0]!.cause.gases).toContain(gas);
    expect(candidates[0]!.score - nothing).toBeGreaterThan(12);
    const odds = candidates.reduce((sum, candidate) => sum + candidate.odds, 0);
    expect(odds).toBeCloseTo(1, 9);
  });

  test('argon is no small peak of air: nitrogen without it comes from a line, and so does argon with too little nitrogen', () => {
    const lead = (change: Record<number, number>) => {
      const frame = frameOf(chamber, change);
      const { candidates } = nameChange(frame, frame.middle, { lane: 'scan' });
      const score = (id: string) => candidates.find(({ cause }) => cause.id === id)?.score ?? Number.NEGATIVE_INFINITY;
      return { best: candidates[0]!.cause.id, line: Math.max(score('N2'), score('Ar')) - score('air') };
    };
    // Transfers let in nitrogen and some water of the air in the lock.
    const moist = lead({ ...peaks({ 28: 100, 14: 12, 29: 0.7 }, 1e-7), ...peaks({ 18: 100, 17: 21 }, 2e-8) });
    expect(moist.best).toBe('N2');
    expect(moist.line).toBeGreaterThan(8);
    const argon = lead(peaks({ 40: 100, 20: 12, 28: 300, 14: 36 }, 2e-9));
    expect(argon.best).toBe('Ar');
  });

  test('a valley below zero beside a high peak changes no name', () => {
    const [change] = changes.air!;
    // The foot of hydrogen is taken off at 3, and a little too much of it.
    const named = (valley: number) => {
      const frame = frameOf(chamber, { ...change, 3: valley });
      const { candidates, nothing } = nameChange(frame, frame.middle, { lane: 'scan' });
      const air = candidates.find(({ cause }) => cause.id === 'air')!;
      return { best: candidates[0]!.cause.signature, evidence: air.score - nothing };
    };
    expect([named(0).best, named(-50 * base).best]).toEqual(['air-leak', 'air-leak']);
    expect(Math.abs(named(-50 * base).evidence - named(0).evidence)).toBeLessThan(1);
  });

  test('all peaks and the gauge together are a pump, all peaks without the gauge the analyser', () => {
    const doubled = (gauge: boolean) => {
      const { mean, masses } = draft(chamber).baselines.base!;
      const change: Record<number, number> & { gauge?: number } = { gauge: gauge ? mean[0]! : 0 };
      masses.forEach((mass, i) => {
        change[mass] = mean[i + 1]!;
      });
      const frame = frameOf(chamber, change);
      return nameChange(frame, frame.middle, { lane: 'scan' }).candidates[0]!.cause.signature;
    };
    expect([doubled(true), doubled(false)]).toEqual(['pumping-loss', 'sensitivity-drift']);
  });

  test('all peaks of an analyser that the gauge scales are a pump before they are a gain', () => {
    const { mean, masses } = draft(chamber).baselines.base!;
    const change = Object.fromEntries(masses.map((mass, i) => [mass, mean[i + 1]!]));
    const frame = frameOf(chamber, change);
    const name = (unit: 'A' | '1') => {
      const seen = { ...frame, input: { ...frame.input, scan: { ...frame.input.scan, unit } } };
      const ground = { ...groundOf(seen), baseline: { ...frame.baseline, hasGauge: false } };
      return nameChange(ground, frame.middle, { lane: 'scan' }).candidates.map(({ cause }) => cause.signature);
    };
    expect(name('A')[0]).toBe('sensitivity-drift');
    expect(name('1').slice(0, 2)).toEqual(['pumping-loss', 'sensitivity-drift']);
  });

  test('where the gauge gives the scale, pump and gauge explain a common rise equally well', () => {
    const { mean, masses } = draft(chamber).baselines.base!;
    const frame = frameOf(chamber, Object.fromEntries(masses.map((mass, i) => [mass, 2 * mean[i + 1]!])));
    const seen = { ...frame, input: { ...frame.input, scan: { ...frame.input.scan, unit: '1' as const } } };
    const ground = { ...groundOf(seen), baseline: { ...frame.baseline, hasGauge: false } };
    const { candidates } = nameChange(ground, frame.middle, { lane: 'scan' });
    const [pump, gain] = ['pumping', 'gain-up'].map((id) => candidates.find(({ cause }) => cause.id === id)!);
    // What is left is how often each of them happens.
    expect(pump!.score - gain!.score).toBeCloseTo(pump!.cause.prior - gain!.cause.prior, 1);
    expect(pump!.odds).toBeLessThan(0.8);
  });

  test('peaks that no gas has together have no name', () => {
    const frame = frameOf(chamber, { 62: 5e-9, 74: 4e-9, 33: 3e-9 });
    const spectra = advanceLanes(frame);
    const argon = { bursts: false, pulses: 0, meanIntervalSeconds: null, line: true };
    const [event] = decide(frame, { exceedance: null, spectra, argon });
    expect(event).toMatchObject({ kind: 'raised', signature: 'unexplained-peaks', gases: [] });
    if (event?.kind === 'raised') {
      expect(event.finding.summary).toContain('3 peaks have no explanation: 33, 62 and 74');
      expect(event.finding.sureness).toBe('cannot tell');
    }
  });
});

describe('what a cause accounts for', () => {
  const frame = frameOf(chamber, { 43: 4e-9, 57: 4e-9 });
  const tolerance = tolerances(frame);
  const shape = (heights: Record<number, number>) =>
    Float64Array.from([0, ...frame.baseline.masses], (mass, m) => (m === 0 ? 0 : (heights[mass] ?? 0)));

  test('all, half, or something that is not there', () => {
    expect(leftShare(frame.middle, shape({ 43: 4e-9, 57: 3e-9 }), tolerance)).toBe(0);
    expect(leftShare(frame.middle, shape({ 43: 4e-9 }), tolerance)).toBeCloseTo(0.5, 1);
    expect(leftShare(frame.middle, shape({ 43: 4e-9, 57: 4e-9, 71: 1e-8 }), tolerance)).toBeGreaterThan(0.4);
  });

  test('a fall is no debt of a cause, and the breathing of the own gases is tolerated', () => {
    const m = frame.baseline.masses.indexOf(18) + 1;
    const fallen = Float64Array.from(frame.middle);
    fallen[m]! -= frame.baseline.mean[m]!;
    expect(leftShare(fallen, shape({ 43: 4e-9, 57: 4e-9 }), tolerance)).toBe(0);
    expect(tolerance[m]!).toBeGreaterThan(0.2 * frame.baseline.mean[m]!);
  });

  test('the shape that is kept is what stood out', () => {
    const seen = shapeSeen(frame, frame.middle, { direction: shape({ 43: 1, 57: 1 }), amplitude: 4e-9 });
    const kept = frame.baseline.masses.filter((_, i) => seen[i + 1] !== 0);
    expect(kept).toEqual([43, 57]);
    expect(explainedByStanding(frame)).toBeNull();
  });
});

describe('lanes', () => {
  const judge = (change: Parameters<typeof frameOf>[1], scans: number) => {
    const memory = draft(chamber);
    let verdict: ReturnType<typeof judgeLanes> | null = null;
    for (let i = 0; i < scans; i++) {
      const frame = frameOf(chamber, change, { times: 1, memory });
      const triggers = triggersOf(frame.gasCauses, frame.ownCauses, frame.baseline, frame.reference);
      verdict = judgeLanes(frame, advanceLanes(frame), triggers);
    }
    return verdict!;
  };

  test('a change is called after its on-delay, not before; a gross one a scan earlier', () => {
    const water = draft(chamber).baselines.base!.own.find(({ gas }) => gas === 'H2O')!.pressurePa;
    const wet = (factor: number) => ({ ...peaks({ 18: 100, 17: 22 }, factor * water), gauge: factor * water });
    expect(judge(wet(1.2), ON_DELAY - 1).worst).toBeNull();
    expect(judge(wet(1.2), ON_DELAY).worst?.trigger.cause.id).toBe('H2O');
    expect(judge(changes.oil![0], 2).worst).not.toBeNull();
  });

  test('a quiet scan is quiet, and less of a gas is no news', () => {
    expect(judge({}, 4)).toMatchObject({ worst: null, quiet: true });
    const water = draft(chamber).baselines.base!.own.find(({ gas }) => gas === 'H2O')!.pressurePa;
    const { worst } = judge({ ...peaks({ 18: 86, 17: 19 }, -0.8 * water), gauge: -0.7 * water }, 6);
    expect(worst).toBeNull();
  });
});

describe('triggers', () => {
  const frame = frameOf(chamber, {});
  const triggers = triggersOf(frame.gasCauses, frame.ownCauses, frame.baseline, frame.reference);

  test('ask for a tenth of a decade of what is usual', () => {
    const water = triggers.find(({ key }) => key === 'H2O.0')!;
    const usual = frame.baseline.own.find(({ gas }) => gas === 'H2O')!.pressurePa;
    expect(water.least / usual).toBeCloseTo(DEAD_BAND, 6);
    expect(10 ** 0.1 - 1).toBeCloseTo(DEAD_BAND, 12);
  });

  test('a contaminant must be worth a call: two parts in ten thousand of the whole spectrum', () => {
    const oil = frame.gasCauses.find(({ id }) => id === 'hydrocarbon-oil')!;
    const dense = onChamber(oil.variants[0]!.dense, null, frame.baseline, frame.reference.spectra);
    const least = leastAmplitude(oil, dense, frame.baseline, 1e-7);
    expect(least * Math.max(...dense.slice(1))).toBeGreaterThanOrEqual(2e-4 * 1e-7 * 0.999);
  });

  test('the pattern of a gas that the chamber shows well is its own', () => {
    const water = triggers.find(({ key }) => key === 'H2O.0')!;
    const own = frame.reference.spectra.find(({ own: { gas } }) => gas === 'H2O')!;
    const m = frame.baseline.masses.indexOf(17) + 1;
    expect(water.direction.dense[m]).toBeCloseTo(own.channels[m]! / own.own.pressurePa, 9);
  });
});

describe('the null model', () => {
  const frame = frameOf(chamber, {});
  const { memory, baseline, reference, atMs } = frame;

  test('what an open alert stands for is free: it is not called again', () => {
    const air = frame.gasCauses.find(({ id }) => id === 'air')!;
    const d = triggersOf([air], [], baseline, reference)[0]!.direction;
    const z = (withAlert: boolean) => {
      const other = draft(chamber);
      if (withAlert) {
        other.standing = [
          {
            ...{ signature: 'air-leak', cause: 'air', gases: [], priority: 'high', state: 'base', lane: 'scan' },
            ...{
              raisedAtMs: 0,
              direction: Array.from(d.dense),
              observed: null,
              observedAmplitude: 1e-8,
              amplitude: 1e-8,
              raisedAmplitude: 1e-8,
            },
            ...{
              peakAmplitude: 1e-8,
              leastAmplitude: 1e-11,
              below: 0,
              moved: 0,
              reportedAmplitude: 1e-8,
              reportedAtMs: 0,
              reportedScans: 0,
            },
            ...{ sureness: 'likely', scans: 0, held: false },
          },
        ];
      }
      const { variance, columns } = nullModel({ memory: other, baseline, reference, lane: 'scan', atMs });
      const whitener = makeWhitener(variance, columns);
      return along(d, whitener.apply(d.dense.map((v) => v * 1e-8))) / Math.sqrt(whitener.information(d));
    };
    expect(z(false)).toBeGreaterThan(20);
    expect(Math.abs(z(true))).toBeLessThan(6);
  });

  test('without a gauge its channel says nothing', () => {
    const blind = { ...baseline, hasGauge: false };
    const { variance } = nullModel({ memory, baseline: blind, reference, lane: 'scan', atMs });
    expect(variance[0]!).toBeGreaterThan(1e30);
  });

  test('every lane knows less noise than the one before, once much is known of the chamber', () => {
    const old = { ...baseline, scans: 1e6 };
    const m = baseline.masses.indexOf(60) + 1;
    const noise = (['scan', 'mean', 'day'] as const).map(
      (lane) => nullModel({ memory, baseline: old, reference, lane, atMs }).variance[m]!,
    );
    expect(noise[1]!).toBeLessThan(noise[0]!);
    expect(noise[2]!).toBeLessThan(noise[1]!);
  });
});
