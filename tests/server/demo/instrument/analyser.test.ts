import { expect, it } from 'vitest';
import { massOffset } from '../../../../server/demo/instrument/peakShape.ts';
import { INSTRUMENTS } from '../../../../server/demo/instruments.ts';
import { makeWorld } from '../../../../server/demo/world.ts';
import type { Scan } from '../../../../shared/contract/scans.ts';

const HOUR_MS = 3_600_000;
const ANCHOR_MS = Date.UTC(2031, 0, 8, 6, 0);
const world = makeWorld(ANCHOR_MS);
const scansOf = (analyser: string, fromHours: number, toHours: number): Scan[] =>
  [
    ...world.scans({
      afterMs: ANCHOR_MS + fromHours * HOUR_MS,
      untilMs: ANCHOR_MS + toHours * HOUR_MS,
      fullFromMs: ANCHOR_MS + fromHours * HOUR_MS,
    }),
  ].filter((scan) => scan.analyser === analyser);
const at = (scan: Scan, mass: number) => scan.values[mass - 1] as number;

it('an analyser that checks itself on the Faraday cup does so on the hour, and shows what its multiplier has lost', () => {
  const { gain, multiplierLeft = 1 } = INSTRUMENTS.find(({ id }) => id === 'east-larder-a') ?? { gain: 0 };
  const scans = scansOf('east-larder-a', -2.2, -1.8);
  const cup = scans.findIndex(({ detector }) => detector === 'faraday');
  expect(scans.filter(({ detector }) => detector === 'faraday')).toHaveLength(1);
  expect(Date.parse((scans[cup] as Scan).at) % (2 * HOUR_MS)).toBeLessThan(60_000);
  const ratio = at(scans[cup + 1] as Scan, 18) / at(scans[cup] as Scan, 18);
  // Water at a hundred times the cup's read noise: a few per cent.
  expect(ratio / (gain * multiplierLeft)).toBeGreaterThan(0.93);
  expect(ratio / (gain * multiplierLeft)).toBeLessThan(1.07);
});

it('behind its closed valve an analyser sees its own gas alone', () => {
  const [open, closed] = [scansOf('heron-prep-a', -50.2, -50.1), scansOf('heron-prep-a', -49.2, -49.1)];
  expect(closed[0]?.state).toBe('calibration');
  const [before, during] = [open[0] as Scan, closed[0] as Scan];
  // Argon is no gas of a hot cathode; carbon monoxide is.
  expect(at(during, 18)).toBeLessThan(0.2 * at(before, 18));
  expect(at(during, 28)).toBeGreaterThan(0.4 * at(before, 28));
});

it('a mass scale that slides does so by what is said, and others stay', () => {
  const sliding = INSTRUMENTS.filter(({ massSlideUnitsPerDay }) => massSlideUnitsPerDay);
  expect(sliding.map(({ id }) => id)).toEqual(['heron-detector-a']);
  for (const instrument of INSTRUMENTS) {
    const moved =
      massOffset(instrument, ANCHOR_MS, ANCHOR_MS - 48 * HOUR_MS).atZero - massOffset(instrument, ANCHOR_MS).atZero;
    expect(moved).toBeCloseTo(2 * (instrument.massSlideUnitsPerDay ?? 0), 9);
  }
});
