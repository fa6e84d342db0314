/** Ratios of fragments: NIST WebBook (14/28 of N2 0.138, 12/28 of CO 0.047). Movements are laid over by construction. */
import { describe, expect, test } from 'vitest';
import { hasRisen, hasStayed, type Moved, movedGases, nitrogenMoved } from '../../../shared/watch/moved.ts';
import { frameOf, peaks, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const still = frameOf(chamber, {});
const heightOf = (mass: number) => still.reference.spectrum[still.baseline.masses.indexOf(mass) + 1]!;
const nitrogenPa = still.baseline.own.find(({ gas }) => gas === 'N2')!.pressurePa;
const of = (moved: readonly Moved[], gas: string) => moved.find((one) => one.gas === gas);

describe('nitrogen beside carbon monoxide', () => {
  test('stays where carbon monoxide doubles 28, however much it adds there', () => {
    const frame = frameOf(chamber, peaks({ 28: 100, 12: 4.7, 16: 1.7, 29: 1.2 }, 2 * heightOf(28)));
    const nitrogen = nitrogenMoved(frame, frame.middle)!;
    expect(Math.abs(nitrogen.relative)).toBeLessThan(0.25);
    expect(hasRisen(nitrogen)).toBe(false);
    expect(hasRisen(of(movedGases(frame, frame.middle), 'CO')!)).toBe(true);
  });

  test('rises by what came in where 14 rises with it', () => {
    const frame = frameOf(chamber, peaks({ 28: 100, 14: 13.8, 29: 0.7 }, 3 * nitrogenPa));
    const nitrogen = nitrogenMoved(frame, frame.middle)!;
    expect(hasRisen(nitrogen)).toBe(true);
    // Fragments of this chamber differ from the handbook by 10–30 %, and so does the share of 28 that is nitrogen's.
    expect(nitrogen.relative).toBeGreaterThan(1.5);
    expect(nitrogen.relative).toBeLessThan(6);
  });

  test('methane leaves 14 too, and is no nitrogen', () => {
    const methane = still.reference.spectra.find(({ own }) => own.gas === 'CH4')!;
    const change = methane.channels.map((height, m) => (m === 0 ? 0 : 3 * height));
    expect(hasRisen(nitrogenMoved(still, change)!)).toBe(false);
  });

  test('without 14 nobody knows, while carbon monoxide has the larger part of 28', () => {
    const masses = still.baseline.masses.map((mass) => (mass === 14 ? 14.5 : mass));
    const m = still.baseline.masses.indexOf(28) + 1;
    const spectra = still.reference.spectra.map((spectrum) => {
      if (spectrum.own.gas !== 'N2') return spectrum;
      const channels = spectrum.channels.slice();
      channels[m] = 0.1 * heightOf(28);
      return { ...spectrum, channels };
    });
    const blind = { ...still, baseline: { ...still.baseline, masses }, reference: { ...still.reference, spectra } };
    expect(nitrogenMoved(blind, still.middle)).toBeNull();
    expect(of(movedGases(blind, still.middle), 'N2')).toBeUndefined();
  });
});

test('what is clear of noise has risen; what is known to be where it was has stayed; noise is neither', () => {
  const cases: [number, number, boolean, boolean][] = [
    [0.8, 0.05, true, false],
    [0.8, 0.4, false, false],
    [0.02, 0.01, false, true],
    [0.02, 0.4, false, false],
    [-0.5, 0.01, false, false],
  ];
  for (const [relative, sigma, risen, stayed] of cases) {
    const moved = { gas: 'CO', relative, sigma };
    expect([hasRisen(moved), hasStayed(moved)], `${relative} ± ${sigma}`).toEqual([risen, stayed]);
  }
});

test('in a tail a gas is held against what the tail foretells of it', () => {
  const water = still.reference.spectra.find(({ own }) => own.gas === 'H2O')!;
  const tail = water.channels.map((height) => 3 * height);
  const settling = { ...still, reference: { ...still.reference, tail } };
  // Twice the usual on top of four times the usual is half as much again.
  const change = water.channels.map((height) => 2 * height);
  expect(of(movedGases(settling, change), 'H2O')!.relative).toBeCloseTo(0.5, 6);
});
