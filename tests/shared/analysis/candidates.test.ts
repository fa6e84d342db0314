import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { strangersOf } from '../../../shared/analysis/candidates.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { makeSimulatedAnalyser, seededRandom, simulateScan } from '../../support/instrument.ts';

const CATALOGUE = catalogueFor([]);
const BARS = { first: 1, last: 200, perUnit: 1 };

function analysisWith(extra: Record<string, number>, seed: number) {
  const random = seededRandom(seed);
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.1 });
  const truth = { H2O: 1e-6, H2: 2e-7, N2: 1e-7, CO2: 3e-8, ...extra };
  const simulated = simulateScan(random, analyser, truth, { unit: 'Pa', masses: BARS, range: 1e5, ions: 1e7 });
  return makeAnalyser(simulated.calibration, CATALOGUE).analyse(simulated.scan).analysis;
}

describe('gases of the whole catalogue for a peak that this chamber cannot explain', () => {
  test.each([
    ['Xe', 132],
    ['Kr', 84],
    ['SF6', 127],
    ['CCl4', 117],
  ] as const)('%s at m/z %i', (id, mass) => {
    let named = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const { measurement, notes } = analysisWith({ [id]: 2e-8 }, seed);
      const { candidates } = measurement!;
      for (const { gases } of candidates) expect(gases.length).toBeLessThanOrEqual(3);
      if (candidates.some(({ gases }) => gases.includes(id))) named++;
      if (candidates.some((one) => one.mass === mass && one.gases.includes(id))) {
        expect(notes.find(({ code }) => code === 'unexplained-peaks')!.text).toMatch(
          new RegExp(`would go with.*${id}`),
        );
      }
    }
    expect(named).toBeGreaterThanOrEqual(15);
  });

  test('nothing is named when nothing is unexplained', () => {
    expect(analysisWith({}, 1).measurement!.candidates).toEqual([]);
  });

  test('are those that the chamber does not list', () => {
    const { columns } = strangersOf(CATALOGUE, [2, 18, 28, 69, 84, 127], {});
    const ids = columns.map(({ id }) => id);
    expect(ids).toContain('Kr');
    expect(ids).not.toContain('H2O');
    expect(ids).not.toContain('N2');
    // Xenon's main peaks were not measured: it could not be named by them.
    expect(ids).not.toContain('Xe');
  });
});
