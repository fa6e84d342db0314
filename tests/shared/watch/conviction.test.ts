/** When a name is good enough. */
import { describe, expect, test } from 'vitest';
import {
  convinces,
  isCompany,
  isFarFetched,
  isVisible,
  leastOf,
  waitsForLine,
} from '../../../shared/watch/conviction.ts';
import { advanceLanes } from '../../../shared/watch/lanes.ts';
import { type Candidate, type Naming, nameChange } from '../../../shared/watch/naming.ts';
import { CLEAR_LEAD, LEAST_EVIDENCE, WAIT_SCANS } from '../../../shared/watch/parameters.ts';
import { frameOf, peaks, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const frame = frameOf(chamber, { ...peaks({ 43: 100, 58: 34, 15: 30, 42: 7, 27: 8 }, 4e-9), gauge: 1.2e-8 });
const naming = nameChange(frame, frame.middle, { lane: 'scan' });
const best = naming.candidates[0]!;
const argon = { bursts: false, pulses: 0, meanIntervalSeconds: null, line: true };
const trigger = { trigger: null as never, lane: 'scan' as const, z: 30, scans: 3 };
const call = { exceedance: trigger, spectra: advanceLanes(frame), argon };

/** The same candidates with scores of our own: `evidence` over nothing, `lead` over the next signature. */
function scored(evidence: number, lead: number, id = best.cause.id): { naming: Naming; best: Candidate } {
  const leader = naming.candidates.find(({ cause }) => cause.id === id)!;
  const rival = naming.candidates.find(({ cause }) => cause.signature !== leader.cause.signature)!;
  const first = { ...leader, score: 0, amplitude: Math.max(leader.amplitude, 2 * leastOf(frame, leader)) };
  return { naming: { candidates: [first, { ...rival, score: -lead }], nothing: -evidence, change: 0 }, best: first };
}
const asks = (evidence: number, lead: number, scans: number) =>
  convinces(frame, { call, scans, ...scored(evidence, lead) });

describe('a name convinces', () => {
  test('with enough evidence and a clear lead', () => {
    expect(best.cause.id).toBe('acetone');
    expect(asks(LEAST_EVIDENCE + 1, CLEAR_LEAD + 1, 1)).toBe(true);
    expect(asks(LEAST_EVIDENCE - 1, CLEAR_LEAD + 1, 100)).toBe(false);
  });

  test('without a clear lead only after it has waited', () => {
    expect(asks(100, CLEAR_LEAD - 1, 1)).toBe(false);
    expect(asks(100, CLEAR_LEAD - 1, WAIT_SCANS + 1)).toBe(true);
  });

  test('where the chamber cools for what rises, and not for what is said of the analyser', () => {
    const cooling = { ...frame, state: 'cool-down' };
    const asked = (of: { naming: Naming; best: Candidate }, at: typeof frame) =>
      convinces(at, { call, scans: 1, ...of });
    const gas = scored(200, 50);
    const cause = frame.ownCauses.find(({ id }) => id === 'gain-down')!;
    const named = { ...gas.best, cause, amplitude: 1 };
    const analyser = { naming: { ...gas.naming, candidates: [named] }, best: named };
    expect([asked(gas, frame), asked(gas, cooling)]).toEqual([true, true]);
    expect([asked(analyser, frame), asked(analyser, cooling)]).toEqual([true, false]);
  });

  test('in the tail of a vent not for oxides of the ioniser: the walls give them off as well', () => {
    const cause = frame.ownCauses.find(({ signature }) => signature === 'analyser-outgassing')!;
    const of = scored(200, 50);
    const named = { ...of.best, cause, amplitude: 1e9 };
    const outgassing = { naming: { ...of.naming, candidates: [named] }, best: named };
    const settling = { ...frame, memory: { ...frame.memory, settling: { short: false, atMs: 0 } as never } };
    expect([frame, settling].map((at) => convinces(at, { call, scans: 1, ...outgassing }))).toEqual([true, false]);
  });

  test('where the chamber cools what has no name waits for base, what has one does not', () => {
    const cooling = { ...frame, state: 'cool-down' };
    expect([isCompany(frame, 'unexplained-peaks'), isCompany(cooling, 'unexplained-peaks')]).toEqual([false, true]);
    expect([isCompany(cooling, 'air-leak'), isCompany(cooling, 'hydrocarbon-oil')]).toEqual([false, false]);
  });

  test('when there is enough of it', () => {
    const { naming: given, best: first } = scored(100, 10);
    const little = { ...first, amplitude: 0.5 * leastOf(frame, first) };
    expect(convinces(frame, { call, scans: 1, naming: given, best: little })).toBe(false);
  });

  test('with less of it where days have shown it', () => {
    const { naming: given, best: first } = scored(100, 10);
    const asked = (share: number, lane: 'scan' | 'day') =>
      convinces(frame, {
        call: { ...call, exceedance: { ...trigger, lane } },
        scans: 1,
        naming: given,
        best: { ...first, amplitude: share * leastOf(frame, first) },
      });
    expect([0.7, 0.9].map((share) => asked(share, 'scan'))).toEqual([false, true]);
    expect([0.6, 0.7].map((share) => asked(share, 'day'))).toEqual([false, true]);
  });
});

describe('argon', () => {
  const of = (lane: 'scan' | 'day', line: boolean) => ({
    ...call,
    exceedance: { ...trigger, lane },
    argon: { ...argon, line },
  });
  const candidate = (id: string) => naming.candidates.find(({ cause }) => cause.id === id) ?? best;
  const rare = { ...best, cause: { ...best.cause, id: 'Ar' } };

  test('that has not lasted waits, whichever way it was named', () => {
    expect(waitsForLine(of('scan', false), rare)).toBe(true);
    expect(waitsForLine(of('scan', true), rare)).toBe(false);
    expect(waitsForLine(of('day', false), rare)).toBe(false);
    expect(waitsForLine(of('scan', false), candidate('acetone'))).toBe(false);
  });
});

test('air that is hardly more than argon waits as argon does', () => {
  const as = (id: string, score: number): Candidate => {
    const cause = frame.gasCauses.find((known) => known.id === id)!;
    return { ...best, cause, score, amplitude: 1 };
  };
  const asked = (line: boolean, behind: number) => {
    const air = as('air', 0);
    const candidates = [air, as('Ar', -behind), as('N2', -100)];
    const given = { candidates, nothing: -100, change: 0 };
    return convinces(frame, { call: { ...call, argon: { ...argon, line } }, scans: 1, naming: given, best: air });
  };
  expect(asked(false, CLEAR_LEAD - 1)).toBe(false);
  expect(asked(false, CLEAR_LEAD + 1)).toBe(true);
  expect(asked(true, CLEAR_LEAD - 1)).toBe(true);
});

describe('a gauge that gives the scale', () => {
  const shares = { ...frame, input: { ...frame.input, scan: { ...frame.input.scan, unit: '1' as const } } };
  const as = (id: string, score: number): Candidate => {
    const cause = frame.ownCauses.find((own) => own.id === id)!;
    return { ...best, cause, variant: cause.variants[0]!, amplitude: 2, score };
  };
  const pump = as('pumping', 0);
  const tied = { candidates: [pump, as('gain-up', 1 - CLEAR_LEAD)], nothing: -100, change: 0 };
  const asked = (of: typeof frame) => convinces(of, { call, scans: 1, naming: tied, best: pump });

  test('cannot be told from the pump by waiting', () => {
    expect(asked(frame)).toBe(false);
    expect(asked(shares)).toBe(true);
  });

  test('but a peak that repeats to its last digit may be at its stop', () => {
    const { memory } = shares;
    const repeating = { ...memory, quality: { ...memory.quality, topRepeats: 2 } };
    expect(asked({ ...shares, memory: repeating })).toBe(false);
  });
});

test('a cause is seen when what it asks for is there, and a vapour has company of its own', () => {
  expect(isVisible(frame, frame.middle, best, call)).toBe(true);
  expect(isVisible(frame, new Float64Array(frame.middle.length), best, call)).toBe(false);
  expect(isCompany(frame, 'solvent')).toBe(false);
  expect(isFarFetched(frame, best)).toBe(false);
  const tail = new Float64Array(frame.middle.length);
  const inTail = { ...frame, reference: { ...frame.reference, tail } };
  const rare = { ...best, cause: { ...best.cause, triggers: [] } };
  expect(isFarFetched(inTail, rare)).toBe(true);
});

test('where argon comes and goes by itself, half of the nitrogen is too little to call it air', () => {
  const leak = frameOf(chamber, { ...peaks({ 28: 100, 14: 11, 40: 1.8, 20: 0.2 }, 9e-9), gauge: 9e-9 });
  const air = nameChange(leak, leak.middle, { lane: 'scan' }).candidates.find(({ cause }) => cause.id === 'air')!;
  const half = air.direction.map((value) => 0.5 * air.amplitude * value);
  const inTail = { ...leak, reference: { ...leak.reference, tail: new Float64Array(half.length) } };
  const seen = (verdict: typeof argon, at = leak, cause = air.cause) =>
    isVisible(at, half, { ...air, cause }, { ...call, argon: verdict });
  const pulsing = { ...argon, pulses: 2, line: false };
  expect([seen(argon), seen(pulsing), seen({ ...pulsing, line: true })]).toEqual([true, false, true]);
  expect([seen(pulsing, inTail), seen(pulsing, leak, best.cause)]).toEqual([true, true]);
});
