/** What is said, and with which numbers. */
import { describe, expect, test } from 'vitest';
import { type Change, changeOf, latestOf, rememberEstimates } from '../../../shared/watch/estimates.ts';
import { evidenceFor } from '../../../shared/watch/evidence.ts';
import { judge } from '../../../shared/watch/finding.ts';
import { inflowOf } from '../../../shared/watch/leakRate.ts';
import { emptyMemory } from '../../../shared/watch/memory.ts';
import { nameChange } from '../../../shared/watch/naming.ts';
import { priorityOf } from '../../../shared/watch/priority.ts';
import { ARGON_IN_AIR, NITROGEN, OXYGEN_IN_AIR, ratioEvidence } from '../../../shared/watch/ratios.ts';
import { type SentenceInput, sentence } from '../../../shared/watch/sentence.ts';
import { surenessOf } from '../../../shared/watch/sureness.ts';
import { plainSentence } from '../../support/sentenceInput.ts';
import { draft, frameOf, peaks, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const air = { ...peaks({ 28: 100, 14: 12, 32: 23, 16: 4, 40: 1.65, 20: 0.2, 36: 0.0055 }, 1e-7), gauge: 1.2e-7 };

describe('the leak rate', () => {
  const frame = frameOf(chamber, air);

  test('Q = ΔP · S / x: worked through by hand for argon', () => {
    const inflow = inflowOf('Ar', frame, frame.middle)!;
    // 40Ar of 1 Pa argon, N2-equivalent: 1.4 · (100/115) · 1.145 (CRC factor, NIST WebBook pattern) = 1.39.
    const argonPa = 1.65e-9 / 1.39;
    const byHand = (argonPa * chamber.world.speeds.Ar! * 1e-3) / 0.00934;
    expect(inflow.value / byHand).toBeGreaterThan(0.95);
    expect(inflow.value / byHand).toBeLessThan(1.05);
    expect(inflow.low).toBeLessThan(inflow.value);
    expect(inflow.high).toBeGreaterThan(inflow.value);
    // Argon's sensitivity is known to 20–30 %: the interval is no narrower.
    expect(inflow.high / inflow.low).toBeGreaterThan(1.5);
  });

  test('nitrogen and oxygen speak for the same air', () => {
    const [nitrogen, oxygen] = [inflowOf('N2', frame, frame.middle)!, inflowOf('O2', frame, frame.middle)!];
    const argon = inflowOf('Ar', frame, frame.middle)!;
    for (const other of [nitrogen, oxygen]) {
      expect(other.low).toBeLessThan(argon.high);
      expect(other.high).toBeGreaterThan(argon.low);
    }
  });

  test('no speed, no mass or no rise: no number', () => {
    const slow = {
      ...frame,
      context: { ...frame.context, chamber: { ...frame.context.chamber, pumpingSpeedLitresPerSecond: {} } },
    };
    expect(inflowOf('Ar', slow, frame.middle)).toBeNull();
    expect(inflowOf('Ar', frame, new Float64Array(frame.middle.length))).toBeNull();
  });
});

describe('ratios of what came in', () => {
  const frame = frameOf(chamber, air);

  test('name nitrogen, argon in its share, and oxygen', () => {
    expect(ratioEvidence(frame, frame.middle, NITROGEN)).toMatchObject({ verdict: 'nitrogen' });
    expect(ratioEvidence(frame, frame.middle, ARGON_IN_AIR)).toMatchObject({ verdict: 'as in air' });
    expect(ratioEvidence(frame, frame.middle, OXYGEN_IN_AIR)).toMatchObject({ verdict: 'as in air' });
  });

  test('oxygen that is missing is said to be eaten; carbon monoxide is not nitrogen', () => {
    const eaten = frameOf(chamber, { ...air, 32: 1e-10 });
    expect(ratioEvidence(eaten, eaten.middle, OXYGEN_IN_AIR)).toMatchObject({ verdict: 'oxygen is eaten on the way' });
    // Oxygen has even fallen a little: none, and no surer than its spread.
    const less = eaten.middle.map((value, m) => (eaten.baseline.masses[m - 1] === 32 ? -1e-9 : value));
    const none = ratioEvidence(eaten, less, OXYGEN_IN_AIR)!;
    expect(none).toMatchObject({ value: 0, low: 0, verdict: 'oxygen is eaten on the way' });
    expect(none.high).toBeGreaterThan(0);
    const oxide = frameOf(chamber, peaks({ 28: 100, 12: 5 }, 1e-7));
    expect(ratioEvidence(oxide, oxide.middle, NITROGEN)?.verdict).toContain('carbon monoxide');
  });

  test('too small to see: cannot tell, and no number', () => {
    const faint = frameOf(
      chamber,
      peaks({ 28: 100, 40: 2 }, 6 * Math.sqrt(frame.baseline.variance[frame.baseline.masses.indexOf(28) + 1]!)),
    );
    expect(ratioEvidence(faint, faint.middle, ARGON_IN_AIR)).toMatchObject({ value: null });
  });
});

describe('judged', () => {
  test('an air leak carries its rate, its ratios, its rival and its first step', () => {
    const frame = frameOf(chamber, air);
    const naming = nameChange(frame, frame.middle, { lane: 'scan' });
    const candidate = naming.candidates[0]!;
    const input = {
      frame,
      naming,
      candidate,
      signature: 'air-leak' as const,
      gases: ['N2', 'O2', 'Ar'],
      change: frame.middle,
      lane: 'scan',
      growing: false,
    };
    const { finding, priority } = judge(input);
    // Its oxygen is that of air, whichever variant fits best: the sentence says what the evidence says.
    const lean = { ...candidate, variant: { ...candidate.variant, oxygen: 0.1 } };
    expect(judge({ ...input, candidate: lean }).finding.summary).not.toContain('eaten');
    const without = frameOf(chamber, { ...air, 32: 1e-10 });
    expect(judge({ ...input, frame: without, change: without.middle }).finding.summary).toContain('oxygen is eaten');
    expect(priority).toBe('high');
    expect(finding.leakRate!.unit).toBe('Pa*m3/s');
    expect(finding.sureness).toBe('nearly certain');
    expect(finding.alternatives[0]!.signature).not.toBe('air-leak');
    const names = evidenceFor(input).map(({ name }) => name);
    expect(names).toContain('Air by argon');
    expect(names).toContain('κ: gauge over the sum of partial pressures');
    for (const row of finding.evidence) {
      for (const number of [row.value, row.low, row.high])
        expect(number === null || number === undefined || Number.isFinite(number)).toBe(true);
    }
  });
});

describe('how sure', () => {
  test.each([
    [0.99, 'nearly certain'],
    [0.95, 'nearly certain'],
    [0.9, 'likely'],
    [0.7, 'more likely than not'],
    [0.5, 'open'],
  ])('odds of %d are said as: %s', (odds, said) => expect(surenessOf(odds)).toBe(said));
});

describe('priority by consequence', () => {
  const leak = {
    signature: 'air-leak' as const,
    gases: ['N2'],
    lane: 'scan',
    sureness: 'nearly certain' as const,
    factor: 10,
    witnessed: true,
    named: ['AsH3'],
  };
  test.each([
    ['a clear leak', leak, 'high'],
    ['a leak seen at mass 28 alone', { ...leak, witnessed: false }, 'medium'],
    ['a slow one', { ...leak, lane: 'day' }, 'low'],
    ['an uncertain one', { ...leak, sureness: 'open' as const }, 'low'],
    ['arsine from a line', { ...leak, signature: 'gas-inleak' as const, gases: ['AsH3'] }, 'high'],
    ['arsine where nobody has it', { ...leak, signature: 'gas-inleak' as const, gases: ['AsH3'], named: [] }, 'medium'],
    ['nitrogen from a line', { ...leak, signature: 'gas-inleak' as const }, 'medium'],
    ['water at once three times', { ...leak, signature: 'water' as const, factor: 3.1 }, 'medium'],
    ['water twice', { ...leak, signature: 'water' as const, factor: 2 }, 'low'],
    ['oil', { ...leak, signature: 'hydrocarbon-oil' as const }, 'medium'],
  ])('%s: %s', (_what, input, priority) => expect(priorityOf(input)).toBe(priority));
});

describe('sentences', () => {
  const now = { valuePa: 2.3e-9, lowPa: 1.6e-9, highPa: 3.2e-9, sigmaPa: 1e-10, detected: true };
  const change = (factor: number | null, atLeast = false): Change => ({
    now,
    usualPa: null,
    usualLowPa: 0,
    usualHighPa: 1e-10,
    factor,
    atLeast,
  });
  const base: SentenceInput = {
    ...plainSentence('water', 'H2O'),
    gases: ['H2O'],
    changes: [{ gas: 'H2O', change: change(2) }],
  };
  const amount = '2.3×10⁻⁹\u00a0Pa (1.6–3.2)';
  test.each<[string, Partial<SentenceInput>, string]>([
    [
      'air',
      {
        signature: 'air-leak',
        inflow: { value: 1.1e-7, low: 0.8e-7, high: 1.5e-7 },
        inflowBy: 'Ar',
        growing: true,
        sureness: 'nearly certain',
      },
      'Air is leaking in and growing: 1.1×10⁻⁷\u00a0Pa·m³/s (0.8–1.5), measured by argon. Nearly certain.',
    ],
    [
      'slow air without oxygen',
      {
        signature: 'air-leak',
        inflow: { value: 6e-10, low: 4e-10, high: 9e-10 },
        inflowBy: 'Ar',
        slow: true,
        oxygenEaten: true,
      },
      'Air leaks in slowly: 6.0×10⁻¹⁰\u00a0Pa·m³/s (4–9), measured by argon; oxygen is eaten on the way. Likely.',
    ],
    [
      'a line',
      { signature: 'gas-inleak', gases: ['N2'], changes: [{ gas: 'N2', change: change(8.5) }] },
      'Nitrogen leaks in from a line: 8.5 times the usual, no argon, no oxygen with it. Likely.',
    ],
    [
      'a gas never seen',
      { signature: 'gas-inleak', gases: ['SF6'], changes: [{ gas: 'SF6', change: change(40, true) }] },
      `Sulfur hexafluoride leaks in from a line: ${amount}, not seen here before. Likely.`,
    ],
    [
      'a gas that is not solved for',
      { signature: 'gas-inleak', gases: ['SF6'], changes: [], amplitude: 4e-11 },
      'Sulfur hexafluoride leaks in from a line: about 4.0×10⁻¹¹\u00a0Pa, not seen here before. Likely.',
    ],
    ['water', {}, `Water is 2 times the usual, and no air came with it: ${amount}. Likely.`],
    ['oil', { signature: 'hydrocarbon-oil', gases: ['hydrocarbon-oil'] }, `Pump oil has come in: ${amount}. Likely.`],
    [
      'open',
      {
        signature: 'hydrogen',
        gases: ['H2'],
        changes: [{ gas: 'H2', change: change(1.9) }],
        sureness: 'open',
        runnerUp: 'pumping-loss',
      },
      `Hydrogen is 1.9 times the usual: ${amount}. Open between hydrogen and a loss of pumping.`,
    ],
    [
      'pumping',
      { signature: 'pumping-loss', gases: ['H2', 'He'], pump: 'light-first', amplitude: 27 },
      'Pumping is going: the lightest gases most, up to about 28 times the usual. Likely.',
    ],
    [
      'gain',
      { signature: 'sensitivity-drift', cause: 'gain-down', amplitude: 0.6, kappa: 2.4 },
      'The analyser is losing gain: every gas reads 2.5 times low, and κ is now 2.4. The chamber is not cleaner. Likely.',
    ],
    [
      'unknown',
      { signature: 'unexplained-peaks', masses: [48, 64], sureness: 'cannot tell' },
      '2 peaks have no explanation: 48 and 64. Cannot tell.',
    ],
    [
      'impossible',
      { signature: 'impossible-pressure', kappa: 0.4 },
      'The partial pressures are above the total: together they are 2.5 times what the gauge reads. Analyser or gauge is wrong; pressures and limits are not judged meanwhile. Likely.',
    ],
    ['without a scale', { scaled: false }, 'Water is 2 times the usual, and no air came with it. Likely.'],
  ])('%s', (_what, input, said) => expect(sentence({ ...base, ...input })).toBe(said));
});

describe('estimates', () => {
  test('rest on three scans: one odd one does not speak', () => {
    const memory = emptyMemory('1', 'base', 0);
    for (const valuePa of [1e-9, 9e-7, 1.1e-9]) {
      rememberEstimates(
        memory,
        [{ gas: 'Ar', valuePa, lowPa: valuePa / 2, highPa: 2 * valuePa, detected: true, sigmaPa: 1e-11 }],
        0,
      );
    }
    expect(latestOf(memory, 'Ar')!.valuePa).toBe(1.1e-9);
    expect(latestOf(memory, 'Kr')).toBeNull();
  });

  test('what was below detection is exceeded "at least"', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const gas = Object.entries(baseline.gases).find(([, window]) => window.detected === 0)![0];
    expect(changeOf(memory, baseline, gas)!.atLeast).toBe(true);
    expect(changeOf(memory, baseline, 'H2O')!.atLeast).toBe(false);
    expect(changeOf(memory, baseline, 'H2O')!.factor!).toBeCloseTo(1, 0);
  });
});
