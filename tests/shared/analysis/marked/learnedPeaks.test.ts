import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../../shared/analysis/analyse.ts';
import { learnedPeaks } from '../../../../shared/analysis/marked/learnedPeaks.ts';
import { learnPattern } from '../../../../shared/analysis/marked/learnPattern.ts';
import { ownMasses } from '../../../../shared/analysis/marked/ownMasses.ts';
import { type GasId, gasById } from '../../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../../shared/catalogue/select.ts';
import { KINDS, scaled } from '../../../support/compositions.ts';
import { makeSimulatedAnalyser, seededRandom } from '../../../support/instrument.ts';
import { BARS, DOSE_PA, markedScans, plus, REST } from '../../../support/markedScans.ts';

const gas = gasById('N2');
const ratio = (mean: number, sigma: number) => ({ mean, sigma, range: 0, noise: sigma });
const learned = (ratios: Readonly<Record<number, ReturnType<typeof ratio>>>, isClaimed = (_mass: number) => false) => {
  const masses = Object.keys(ratios).map(Number);
  return learnedPeaks({
    gas,
    masses,
    own: ownMasses(gas),
    ratios: masses.map((mass) => ratios[mass]!),
    referenceMass: 28,
    isClaimed,
  });
};
const ONE = ratio(1, 0);

describe('ratios that replace the records', () => {
  test('never better than three per cent', () => {
    expect(learned({ 14: ratio(0.12, 1e-6), 28: ONE }).uncertainty).toBe(0.03);
  });

  test('the main fragments set the uncertainty', () => {
    expect(learned({ 14: ratio(0.1, 0.008), 28: ONE })).toEqual({
      peaks: { 14: 10, 28: 100 },
      uncertainty: 0.08,
      left: [],
    });
  });

  test('a small peak known much worse is left to the records', () => {
    const { peaks, left } = learned({ 14: ratio(0.1, 0.001), 28: ONE, 29: ratio(0.007, 0.001) });
    expect([peaks[29], left]).toEqual([undefined, [29]]);
  });

  test('a peak of the records that is certainly not there is zero', () => {
    // Published 0.74 %.
    expect(learned({ 28: ONE, 29: ratio(0.0001, 0.0002) }).peaks[29]).toBe(0);
    expect(learned({ 28: ONE, 29: ratio(0.0001, 0.002) }).peaks[29]).toBeUndefined();
  });

  test('an isotope that the records leave out is learned unless somebody else has a peak there', () => {
    const seen = { 28: ONE, 30: ratio(0.002, 0.0001) };
    expect(learned(seen).peaks[30]).toBeCloseTo(0.2, 10);
    expect(learned(seen, (mass) => mass === 30).peaks[30]).toBeUndefined();
  });

  test('a peak that is too large for an isotope belongs to another gas', () => {
    expect(learned({ 28: ONE, 30: ratio(0.05, 0.0001) }).peaks).toEqual({ 28: 100 });
  });
});

describe('in the analysis of a scan', () => {
  const DOSES: readonly (readonly GasId[])[] = [[], ['N2'], ['N2', 'CO', 'H2O', 'CO2']];
  const ANALYSERS = 50;

  test('one dose of nitrogen, and carbon monoxide is told from it; four doses, and both are', () => {
    const catalogue = catalogueFor([]);
    const random = seededRandom(4_242);
    const tallies = DOSES.map(() => ({ seen: 0, asked: 0, held: 0, errors: [] as number[] }));
    for (let i = 0; i < ANALYSERS; i++) {
      const analyser = makeSimulatedAnalyser(random, catalogue.gases, { fragmentSpread: 0.2, sensitivitySpread: 0.03 });
      const truth = scaled({ ...KINDS.unbaked(random), N2: 0.2, CO: random.decades(0.02, 0.2) }, 1e-7);
      const one = markedScans({ random, analyser, truths: [truth], settings: { ...BARS, range: 1e5 } });
      const patterns = DOSES[2]!.map((id) => {
        const truths = Array.from({ length: 6 }, () => plus(REST, { [id]: DOSE_PA }));
        const marked = markedScans({ random, analyser, truths });
        const answer = learnPattern({ gas: gasById(id), catalogue, amountFromGauge: false, ...marked });
        if (!answer.ok) throw new Error(answer.problem);
        return answer.pattern;
      });
      DOSES.forEach((doses, k) => {
        const known = patterns.filter(({ gas }) => (doses as readonly string[]).includes(gas));
        const { analysis } = makeAnalyser({ ...one.calibration, patterns: known }, catalogue).analyse(one.scans[0]!);
        const tally = tallies[k]!;
        for (const { gas, valuePa, lowPa, highPa, detected } of analysis.gases) {
          if (gas !== 'CO' && gas !== 'N2') continue;
          tally.asked++;
          if (truth[gas]! >= lowPa && truth[gas]! <= highPa) tally.held++;
          if (gas === 'CO' && detected) tally.seen++;
          if (gas === 'N2' && detected) tally.errors.push(Math.abs(Math.log10(valuePa / truth[gas]!)));
        }
      });
    }
    const [records, nitrogen, four] = [tallies[0]!, tallies[1]!, tallies[2]!];
    expect(nitrogen.seen).toBeGreaterThan(records.seen + 0.1 * ANALYSERS);
    expect(four.seen).toBeGreaterThanOrEqual(nitrogen.seen);
    expect(medianOf(four.errors)).toBeLessThan(0.5 * medianOf(records.errors));
    for (const { held, asked } of tallies) expect(held / asked).toBeGreaterThanOrEqual(0.93);
  });

  const medianOf = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;
});
