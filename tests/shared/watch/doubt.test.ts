import { describe, expect, test } from 'vitest';
import { dataFaults } from '../../../shared/watch/dataFaults.ts';
import { DOUBT, doubtfulData, doubtfulScatter, doubtOf, noteDoubt } from '../../../shared/watch/doubt.ts';
import { newestScatter } from '../../../shared/watch/newestScatter.ts';
import { judgeScatter } from '../../../shared/watch/quality.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';

const random = makeRandom(5);
const chamber = watched(23);
const { scan } = chamber.last;
const noisy = (share = 0.01) => scan.values.map((v) => v * (1 + share * random.normal()));
const lively = () => {
  const memory = draft(chamber);
  memory.quality.varied = 12;
  return memory;
};
const doubtIn = (memory: ReturnType<typeof draft>, values: Float64Array) =>
  dataFaults({ memory, input: { ...chamber.last, scan: { ...scan, values } } }, memory.baselines.base).doubt;

describe('the newest scan is doubted at once', () => {
  test('when it repeats the one before', () => {
    const memory = lively();
    const values = noisy();
    expect(doubtIn(memory, values)).toBeNull();
    expect(doubtIn(memory, values)).toContain('The last 2 scans are equal');
    expect(doubtIn(memory, noisy())).toBeNull();
  });

  test('not when its gateway has always sent each scan twice', () => {
    const memory = lively();
    for (let i = 0; i < 3; i++) {
      const values = noisy();
      doubtIn(memory, values);
      doubtIn(memory, values);
    }
    const values = noisy();
    expect([doubtIn(memory, values), doubtIn(memory, values)]).toEqual([null, null]);
    expect(doubtIn(memory, values)).toContain('3 scans');
  });

  test('when it holds no value', () => {
    expect(doubtIn(lively(), noisy().fill(Number.NaN))).toContain('without a single value');
  });

  test('when the highest peak falls at once, and for as long as it then stands still', () => {
    const memory = lively();
    const { peaks } = chamber.last;
    const step = (factor: number, top = 9) => {
      const most = Math.max(...peaks.heightPa);
      const read = (height: number) => factor * height * (1 + 0.002 * random.normal());
      const heightPa = peaks.heightPa.map((height) => Math.min(read(height), top * most));
      const input = { ...chamber.last, scan: { ...scan, values: noisy() }, peaks: { ...peaks, heightPa } };
      return dataFaults({ memory, input }, memory.baselines.base).doubt;
    };
    expect([step(1), step(1)]).toEqual([null, null]);
    for (let i = 0; i < 3; i++) expect(step(1, 0.4)).toContain('cut off');
    // What has fallen and moves is no stop.
    expect([step(0.5), step(0.5)]).toEqual([null, null]);
    expect([step(0.2), step(0.2)]).toEqual([expect.stringContaining('cut off'), null]);
  });

  test('when it scatters all over the spectrum, by the square of the factor', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const drawn = (factor: number) =>
      Float64Array.from(baseline.mean, (x, m) => x + factor * Math.sqrt(baseline.variance[m]!) * random.normal());
    const ratioOf = (q: Float64Array) => {
      const ratio = newestScatter(memory, q, baseline);
      judgeScatter(memory, q, baseline, true);
      return ratio;
    };
    for (let i = 0; i < 6; i++) expect(doubtfulScatter(ratioOf(drawn(1)))).toBeNull();
    // (16 + 1) / 2 against the scan before, (16 + 4 + 1) / 6 times three in the second difference.
    expect(doubtfulScatter(ratioOf(drawn(4)))).toContain('times as much as usual');
    expect(ratioOf(drawn(4))).toBeGreaterThan(9);
  });

  test('against one scan before, if there are no two; and not where there is none', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const wild = Float64Array.from(baseline.mean, (x, m) => x + 9 * Math.sqrt(baseline.variance[m]!) * random.normal());
    memory.quality.lastTwo = memory.quality.lastTwo.slice(-1);
    expect(newestScatter(memory, wild, baseline)).toBeGreaterThan(9);
    memory.quality.lastTwo = [];
    expect(newestScatter(memory, wild, baseline)).toBe(1);
  });
});

describe('a note beside the reading', () => {
  test('carries the reason', () => {
    const notes: { code: string; text: string }[] = [];
    noteDoubt(notes, doubtfulData({ equal: 1, isEmpty: false, isCutOff: false }));
    expect([notes, doubtOf(notes)]).toEqual([[], null]);
    noteDoubt(notes, 'First.');
    noteDoubt(notes, 'Second.');
    expect(notes).toEqual([{ code: DOUBT, text: 'First.' }]);
    expect(doubtOf([{ code: 'other', text: 'x' }, ...notes])).toBe('First.');
  });

  test('comes with the step of the watch', () => {
    const again = (memory: typeof chamber.memory, i: number) =>
      watchScan(memory, chamber.context, {
        ...chamber.last,
        scan: { ...scan, id: `again-${i}`, atMs: scan.atMs + i * 60_000 },
      });
    const step = again(chamber.memory, 1);
    expect(step.events).toEqual([]);
    expect(doubtOf(step.notes)).toContain('equal in every value');
  });
});
