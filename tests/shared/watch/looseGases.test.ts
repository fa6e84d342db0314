/** Causes that move many gases need not move them alike. Gases of an ioniser: RAL-TR-2016-008. */
import { describe, expect, test } from 'vitest';
import { loosened } from '../../../shared/watch/looseGases.ts';
import { nameChange } from '../../../shared/watch/naming.ts';
import { groundOf } from '../../../shared/watch/ranking.ts';
import { frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41);

describe('many gases at once', () => {
  test('a warm ioniser makes its gases in any mixture, and the gauge does not see them', () => {
    const frame = frameOf(chamber, {});
    const { spectra } = frame.reference;
    const change: Record<number, number> & { gauge?: number } = {};
    let gauge = 0;
    for (const { own, channels } of spectra) {
      const share = { H2: 1.7, CH4: 1.2, CO: 2.5, CO2: 2.3 }[own.gas] ?? 0;
      frame.baseline.masses.forEach((mass, i) => {
        change[mass] = (change[mass] ?? 0) + share * channels[i + 1]!;
      });
      gauge += share * channels[0]!;
    }
    const name = (gaugePa: number) => {
      const of = frameOf(chamber, { ...change, gauge: gaugePa });
      return nameChange(groundOf(of), of.middle, { lane: 'scan' }).candidates[0]!.cause.signature;
    };
    expect(name(0)).toBe('analyser-outgassing');
    expect(name(gauge)).not.toBe('analyser-outgassing');
  });

  test('single gases may stay behind a common movement; of what the analyser makes the gauge sees nothing', () => {
    const columns = [Float64Array.of(2, 4, 0), Float64Array.of(1, 0, 3), Float64Array.of(9, 9, 9)];
    const model = { columns, variance: Float64Array.of(1, 1, 1), gases: 2, weights: [1, 0.5] };
    const variant = { dense: Float64Array.of(0, 1, 1), prior: 0, moves: [1, 0] };
    expect(loosened(model, 0, variant)).toBe(columns);
    // √(1² + 0.75²) = 1.25; the second gas should not move and gets no more room than it has.
    expect(loosened(model, 0.75, variant).map((column) => [...column])).toEqual([
      [2.5, 5, 0],
      [1, 0, 3],
      [9, 9, 9],
    ]);
    expect(loosened(model, 0.75, { ...variant, unseen: true }).map((column) => [...column])).toEqual([
      [2, 4, 0],
      [1, 0, 3],
      [9, 9, 9],
      [0, 3, 0],
    ]);
  });
});
