import { describe, expect, test } from 'vitest';
import {
  knownLookAlikes,
  type LookAlikeMemory,
  learnLookAlikes,
} from '../../../../shared/analysis/instrument/lookAlikes.ts';
import type { ScanAnalysis } from '../../../../shared/analysis/types.ts';
import { seededRandom } from '../../../support/instrument.ts';

const EMPTY: LookAlikeMemory = { scans: 0, pairs: [] };

/** HCN beside nitrogen at m/z 27 and 28; `null`: not detected. */
function analysisOf(nitrogen: number, hcn: number | null): ScanAnalysis {
  const gas = (id: string, valuePa: number, detected: boolean) => ({
    gas: id,
    valuePa,
    lowPa: 0,
    highPa: 2 * valuePa,
    detected,
    sigmaPa: valuePa / 50,
  });
  return {
    gases: [gas('N2', nitrogen, true), gas('HCN', hcn ?? 1e-9, hcn !== null), gas('Ar', nitrogen / 3, true)],
    sumPa: null,
    floorPa: null,
    decades: null,
    unexplained: null,
    kappa: null,
    chiSquarePerDof: null,
    peaks: [
      {
        mass: 27,
        heightPa: 1,
        sigmaPa: 0.1,
        unexplained: 0,
        parts: [
          { gas: 'HCN', share: 0.9 },
          { gas: 'N2', share: 0.1 },
        ],
      },
      { mass: 40, heightPa: 1, sigmaPa: 0.1, unexplained: 0, parts: [{ gas: 'Ar', share: 1 }] },
    ],
    notes: [],
  };
}

const random = seededRandom(41);
const follow = (count: number, scan: (k: number) => ScanAnalysis) => {
  let memory = EMPTY;
  for (let k = 0; k < count; k++) memory = learnLookAlikes(memory, scan(k));
  return memory;
};
const wave = (k: number) => 1e-6 * Math.exp(0.5 * Math.sin(k / 15));

describe('a gas that may be a fragment', () => {
  test('a constant share of a larger gas that moves, with peaks in common', () => {
    const memory = follow(150, (k) => analysisOf(wave(k), 0.01 * wave(k) * Math.exp(0.05 * random.normal())));
    const [found, ...others] = knownLookAlikes(memory);
    expect(others).toEqual([]);
    expect(found).toMatchObject({ gas: 'HCN', parent: 'N2' });
    expect(found!.ratio).toBeCloseTo(0.01, 3);
    expect(found!.scans).toBeGreaterThanOrEqual(60);
  });

  test.each([
    ['the larger gas stands still', () => analysisOf(1e-6, 1e-8)],
    ['it moves by itself', (k: number) => analysisOf(wave(k), 1e-8 * Math.exp(0.5 * Math.sin(k / 7)))],
    ['it stands still while the larger one moves', (k: number) => analysisOf(wave(k), 1e-8)],
    ['it is seen in half of the scans', (k: number) => analysisOf(wave(k), k % 2 === 0 ? 0.01 * wave(k) : null)],
  ])('not when %s', (_why, scan) => {
    expect(knownLookAlikes(follow(200, scan))).toEqual([]);
  });

  test('not before it was seen for long, and pairs stay few', () => {
    const memory = follow(40, (k) => analysisOf(wave(k), 0.01 * wave(k)));
    expect(knownLookAlikes(memory)).toEqual([]);
    expect(memory.pairs.length).toBe(1);
  });
});
