/** Gases of which the analyser's recorded background holds the larger part; shares are laid over by construction. */
import { describe, expect, test } from 'vitest';
import { hasOutgrown, ownShare } from '../../../shared/watch/analyserOwn.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { watched } from '../../support/world/frames.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';

const MINUTE = 60;
const FROM = 40 * MINUTE;
const options = {
  quietTimetable: true,
  mishaps: false,
  days: (1.5 * HOUR) / DAY,
  fault: { kind: 'CO', size: 2, fromSeconds: FROM },
} as const;
const world = (seed: number) => makeWorld(seed, { kind: 'baked', periodSeconds: MINUTE, hasGauge: true });
const raised = (seed: number, shares: readonly { gas: string; share: number }[], until = Number.POSITIVE_INFINITY) => {
  const measurementAt = (t: number) => ({ ownGas: t < until ? shares : [] });
  const { events } = watchStream(world(seed), streamOf(world(seed), options, { measurementAt }));
  return events.flatMap(({ event }) => (event.kind === 'raised' ? [event] : []));
};
const oxides = (share: number) => [
  { gas: 'CO', share },
  { gas: 'CO2', share },
];

describe('carbon monoxide rises', () => {
  test('and most of it is the analyser: the alert says so, and asks for little', () => {
    for (const seed of [391, 392]) {
      const events = raised(seed, oxides(0.7));
      expect(events.map(({ signature }) => signature)).toEqual(['analyser-outgassing']);
      expect(events[0]!.priority).toBe('low');
      expect(events[0]!.finding.summary).toMatch(/^The analyser gives off carbon monoxide.*more than half is its own/);
      const row = events[0]!.finding.evidence.find(({ name }) => name.startsWith('Share of carbon monoxide'));
      expect(row).toMatchObject({ value: 0.7, expectedHigh: 0.5 });
    }
  });

  test.each([
    ['a third is the analyser', oxides(0.33)],
    ['the background is of another gas', [{ gas: 'H2O', share: 0.9 }]],
  ])('and %s: it is the chamber', (_what, shares) => {
    expect(raised(391, shares).map(({ signature }) => signature)).toEqual(['carbon-oxides']);
  });

  test('until it outgrows the background: then it is called by its own name', () => {
    const events = raised(391, oxides(0.7), FROM + 20 * MINUTE);
    expect(events.map(({ signature }) => signature)).toEqual(['analyser-outgassing', 'carbon-oxides']);
  });
});

test('the least share of several gases decides; none is known: nothing', () => {
  const { last } = watched(393);
  const measurement = { ...last.analysis.measurement!, ownGas: [{ gas: 'CO', share: 0.8 }] };
  const input = { ...last, analysis: { ...last.analysis, measurement } };
  expect([ownShare(input, ['CO']), ownShare(input, ['CO', 'CO2']), ownShare(input, [])]).toEqual([0.8, 0, 0]);
  const standing = { signature: 'analyser-outgassing', cause: 'COx', gases: ['CO'] } as never;
  expect(hasOutgrown({ input } as never, standing)).toBe(false);
  expect(hasOutgrown({ input: last } as never, standing)).toBe(true);
});
