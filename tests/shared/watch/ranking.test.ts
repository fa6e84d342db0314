/**
 * Names of mixtures of the background, each gas risen by its own share on the chamber's own peaks. A getter takes CO, CO2,
 * N2, H2, H2O and O2 and neither methane nor argon; warm surfaces give off all of them but nitrogen (common practice).
 */
import { describe, expect, test } from 'vitest';
import { evidenceFor } from '../../../shared/watch/evidence.ts';
import { judge } from '../../../shared/watch/finding.ts';
import type { Frame } from '../../../shared/watch/frame.ts';
import { withKappa } from '../../../shared/watch/kappaWitness.ts';
import { emptyMemory } from '../../../shared/watch/memory.ts';
import type { Naming } from '../../../shared/watch/naming.ts';
import { ownCauses } from '../../../shared/watch/ownCauses.ts';
import { ownHere, shownBy } from '../../../shared/watch/ownHere.ts';
import { nameBest } from '../../../shared/watch/ranking.ts';
import { frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41, {}, 200);
const still = frameOf(chamber, {});

function risen(shares: Readonly<Record<string, number>>, gauge = true): Frame {
  const change: Record<number, number> & { gauge?: number } = { gauge: 0 };
  for (const { own, channels } of still.reference.spectra) {
    const share = shares[own.gas] ?? 0;
    still.baseline.masses.forEach((mass, i) => {
      change[mass] = (change[mass] ?? 0) + share * channels[i + 1]!;
    });
    if (gauge) change.gauge! += share * channels[0]!;
  }
  return frameOf(chamber, change);
}

const nameOf = (frame: Frame): Naming =>
  nameBest(frame, {
    change: frame.middle,
    lane: 'scan',
    fall: false,
    step: { change: frame.middle, breathing: 0.3 },
  });

function said(frame: Frame) {
  const naming = nameOf(frame);
  const candidate = naming.candidates[0]!;
  const { signature } = candidate.cause;
  const gases = [...(candidate.variant.gases ?? candidate.cause.gases)];
  const input = { frame, naming, candidate, signature, gases, change: frame.middle, lane: 'scan', growing: false };
  return { signature, gases, pump: candidate.variant.pump, finding: judge(input).finding, rows: evidenceFor(input) };
}

const WARM = { CO: 1, CO2: 1, H2: 0.8, H2O: 1 };

describe('oxides of carbon, hydrogen and water together', () => {
  test('without nitrogen are a warm surface, with it a getter', () => {
    const warm = said(risen(WARM));
    expect(warm.signature).toBe('carbon-oxides');
    expect([...warm.gases].sort()).toEqual(['CO', 'CO2', 'H2', 'H2O']);
    expect(warm.finding.summary).toMatch(/a warm surface gives them off\./);
    expect(warm.finding.summary).not.toMatch(/getter|[Nn]itrogen is/);
    const getter = said(risen({ ...WARM, N2: 1, H2: 0.6, H2O: 0.5, O2: 1 }));
    expect([getter.signature, getter.pump]).toEqual(['pumping-loss', 'getter']);
    expect(getter.gases).toContain('N2');
    expect(getter.finding.summary).toMatch(/^A getter gives in: .*nitrogen.* rise/);
  });

  test('a sentence lists no gas that has not risen', () => {
    const { gases, finding } = said(risen({ CO: 1, CO2: 1, H2: 0.8 }));
    expect(gases).not.toContain('H2O');
    expect(finding.summary).not.toContain('water is');
  });

  test('are no warm surface while the ioniser warms up, nor is water or hydrogen alone one', () => {
    const frame = risen(WARM);
    const ids = (of: Frame) => shownBy(of, of.middle).causes.map(({ id }) => id);
    expect(ids(frame)).toContain('warm-surface');
    const memory = {
      ...frame.memory,
      overTime: { ...frame.memory.overTime, warmUp: { sinceMs: 0, startPa: 1, back: 0 } },
    };
    expect(ids({ ...frame, memory })).not.toContain('warm-surface');
    expect(ids(risen({ H2O: 1, H2: 0.3 }))).not.toContain('warm-surface');
    expect(ids(risen({ H2: 1 }))).not.toContain('warm-surface');
    expect(ids(risen({ ...WARM, H2O: 5 }))).not.toContain('warm-surface');
    expect(ids(risen({ ...WARM, CH4: 3 }))).not.toContain('warm-surface');
  });

  test('the gauge that does not see them says that the analyser makes them, and how still it stands', () => {
    const { signature, finding, rows } = said(risen({ CO: 1, CO2: 1, CH4: 0.7, H2: 0.5 }, false));
    expect(signature).toBe('analyser-outgassing');
    expect(finding.summary).toMatch(
      /^The analyser itself gives off carbon .*: the gauge stands still within \d+\u00a0%/,
    );
    expect(rows.find(({ name }) => name === 'Gauge')!.verdict).toMatch(/^stands still within/);
  });

  test('nothing is said of a gauge that is not there', () => {
    const frame = risen(WARM, false);
    const blind = { ...frame, baseline: { ...frame.baseline, hasGauge: false } };
    const { finding, rows } = said(blind);
    expect(finding.summary).not.toMatch(/the gauge (has|does|stands)/);
    expect(rows.some(({ name }) => name === 'Gauge')).toBe(false);
  });
});

const pumps = (frame: Frame) =>
  shownBy(frame, frame.middle)
    .causes.find(({ id }) => id === 'pumping')!
    .variants.map(({ pump }) => pump);

test('a getter is not even asked where nitrogen stays', () => {
  expect(pumps(risen(WARM))).not.toContain('getter');
  expect(pumps(risen({ ...WARM, N2: 1 }))).toContain('getter');
});

test('hydrogen and an oxide without helium, nitrogen or argon are no cryopump', () => {
  expect(pumps(risen({ H2: 1, CO: 0.5 }))).not.toContain('cryopump');
  expect(pumps(risen({ H2: 1, CO: 1, N2: 1, O2: 1, Ar: 1 }))).toContain('cryopump');
});

describe('shares of a sum that the gauge scales', () => {
  const asShares = (frame: Frame): Frame => ({
    ...frame,
    baseline: { ...frame.baseline, hasGauge: false },
    input: { ...frame.input, scan: { ...frame.input.scan, unit: '1' } },
  });

  test('gas that the ioniser makes takes from the others what it adds', () => {
    const frame = asShares(still);
    const outgassing = ownHere(frame).find(({ id }) => id === 'outgassing')!;
    for (const { dense } of outgassing.variants) {
      const sum = dense.reduce((total, value, m) => (m === 0 ? total : total + value), 0);
      const size = dense.reduce((total, value, m) => (m === 0 ? total : total + Math.abs(value)), 0);
      expect(Math.abs(sum) / size).toBeLessThan(1e-9);
    }
  });

  test('are not the analyser where the gauge rose with them', () => {
    const { signature, finding } = said(asShares(risen(WARM)));
    expect(signature).not.toBe('analyser-outgassing');
    expect(finding.summary).not.toMatch(/stands still/);
  });
});

describe('in the tail of a vent', () => {
  // Water of the walls, ten times all that is usual: the gauge is of the tail, and foretold as poorly as it.
  const water = still.reference.spectra.find(({ own }) => own.gas === 'H2O')!.channels;
  const share = (10 * still.reference.spectrum[0]!) / water[0]!;
  const tail = water.map((height) => share * height);
  const spectrum = still.reference.spectrum.map((height, m) => height + tail[m]!);
  const lifted = Uint8Array.from(tail, (height) => (height > 0 ? 1 : 0));
  const reference = { ...still.reference, spectrum, lifted, tail, doubt: tail };
  const memory = { ...still.memory, impossible: { ...emptyMemory('1', 'base', 0).impossible, kappa: 1, scans: 100 } };
  const inTail = (kappa: number): Frame => ({
    ...still,
    memory,
    reference,
    ownCauses: ownCauses(still.baseline, reference),
    input: { ...still.input, analysis: { ...still.input.analysis, kappa } },
  });
  const change = spectrum.map((height, m) => (m === 0 ? 0.6 : 1) * height);

  test('a pump that takes half lifts the tail too, and a steady κ rules a gain out', () => {
    const frame = inTail(0.95);
    const { candidates } = nameBest(frame, { change, lane: 'scan', fall: false, step: null });
    expect(candidates[0]!.cause.id).toBe('pumping');
    const gain = candidates.find(({ cause }) => cause.id === 'gain-up');
    expect(gain?.odds ?? 0).toBeLessThan(0.2);
  });

  test('with κ at half and the gauge where it was the analyser may have gained, and nothing speaks against it', () => {
    const alone = spectrum.map((height, m) => (m === 0 ? 0 : height));
    const { candidates } = nameBest(inTail(0.5), { change: alone, lane: 'scan', fall: false, step: null });
    expect(candidates[0]!.cause.id).toBe('gain-up');
  });

  test('κ speaks only against a gain, and only where the gauge channel cannot', () => {
    const gain = { cause: { id: 'gain-up' }, amplitude: 1, score: 10, odds: 0.5 };
    const pump = { cause: { id: 'pumping' }, amplitude: 1, score: 9, odds: 0.5 };
    const naming = { candidates: [gain, pump], nothing: 0, change: 0 } as unknown as Naming;
    const first = (frame: Frame) => withKappa(frame, naming).candidates[0]!.cause.id;
    // ln 2 at 0.2 is (0.69/0.2)²/2 = 6.0 nats.
    const scores = withKappa(inTail(1), naming).candidates.map(({ score }) => score);
    expect(scores[1]!).toBeCloseTo(10 - 6.0, 1);
    expect([first(inTail(1)), first(inTail(0.5))]).toEqual(['pumping', 'gain-up']);
    expect(first({ ...inTail(1), reference: still.reference })).toBe('gain-up');
  });
});
