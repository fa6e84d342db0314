import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gapsBetween } from '../../../shared/db/gaps.ts';

const span = (from: number, to: number) => ({ from: new Date(from * 1000), to: new Date(to * 1000) });
const gaps = (times: number[], from: number, to: number, now = to) =>
  gapsBetween(
    times.map((time) => time * 1000),
    span(from, to),
    new Date(now * 1000),
  ).map((gap) => [gap.from.getTime() / 1000, gap.to.getTime() / 1000]);

describe('gaps', () => {
  test('are longer than three usual periods', () => {
    expect(gaps([0, 10, 20, 50, 60, 101, 111], 0, 111)).toEqual([[60, 101]]);
  });
  test('are told by the rhythm around them: an analyser that scanned more rarely has none for that', () => {
    const rare = Array.from({ length: 40 }, (_, i) => i * 900);
    const often = Array.from({ length: 300 }, (_, i) => 35_800 + i * 60);
    expect(gaps([...rare, ...often], 0, 53_740)).toEqual([]);
    const missing = often.filter((time) => time < 40_000 || time > 40_600);
    expect(gaps([...rare, ...missing], 0, 53_740)).toEqual([[39_940, 40_660]]);
  });
  test('may lie at the edges', () => {
    expect(gaps([100, 110, 120], 0, 200)).toEqual([
      [0, 100],
      [120, 200],
    ]);
  });
  test('do not reach into the future', () => {
    expect(gaps([0, 10, 20], 0, 1000, 100)).toEqual([[20, 100]]);
    expect(gaps([0, 10, 20], 0, 1000, 25)).toEqual([]);
    expect(gaps([], 500, 1000, 100)).toEqual([]);
  });
  test('fill a span without scans, and cannot be told from one scan', () => {
    expect(gaps([], 0, 100)).toEqual([[0, 100]]);
    expect(gaps([50], 0, 100)).toEqual([]);
  });
  test('never hold a scan, whatever the order of the scans', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 5000 }), { minLength: 1 }), (times) => {
        const found = gaps(times, 0, 5000);
        expect(found).toEqual(
          gaps(
            [...times].sort((a, b) => b - a),
            0,
            5000,
          ),
        );
        for (const [from, to] of found as [number, number][])
          expect(times.filter((time) => time > from && time < to)).toEqual([]);
      }),
    );
  });
});
