import { expect, test } from 'vitest';
import { advanceDay, pinnedShare } from '../../../shared/watch/dayLane.ts';
import type { Frame } from '../../../shared/watch/frame.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(31, { kind: 'unbaked' });

/** A frame with water a fifth above usual and a pinned reference. */
function wet(): Frame {
  const memory = draft(chamber);
  const baseline = memory.baselines.base!;
  baseline.pinned = { mean: baseline.mean, atMs: 0 };
  const m = baseline.masses.indexOf(18) + 1;
  return frameOf(chamber, { 18: 0.2 * baseline.mean[m]! }, { memory });
}
const channel = (frame: Frame, mass: number) => frame.baseline.masses.indexOf(mass) + 1;

/** `hours` of the same scan, one a minute. */
function days(frame: Frame, hours: number): Float64Array | null {
  let day: Float64Array | null = null;
  for (let i = 0; i < hours * 60; i++) day = advanceDay(frame);
  return day;
}

test('says nothing before it holds most of a day, then the rise against the pinned reference', () => {
  const frame = wet();
  expect(days(frame, 24)).toBeNull();
  const day = days(frame, 24)!;
  const m = channel(frame, 18);
  expect(day[m]! / frame.baseline.mean[m]!).toBeCloseTo(0.2, 2);
});

test('while the tail of a short state falls, only the masses that are lifted wait', () => {
  const frame = wet();
  const { memory } = frame;
  const zeros = frame.baseline.mean.map(() => 0);
  const tail = {
    envelope: zeros,
    granted: zeros,
    start: zeros,
    direction: zeros,
    recent: [],
    letIn: null,
    under: null,
  };
  memory.settling = { atMs: 0, scaleSeconds: 1800, short: true, ...tail };
  const lifted = new Uint8Array(frame.q.length);
  lifted[channel(frame, 40)] = 1;
  const settling: Frame = { ...frame, reference: { ...frame.reference, lifted } };
  const day = days(settling, 48)!;
  expect(day[channel(frame, 18)]! / frame.baseline.mean[channel(frame, 18)]!).toBeCloseTo(0.2, 2);
  expect(day[channel(frame, 40)]).toBe(0);
  memory.settling = { ...memory.settling, short: false };
  expect(advanceDay(settling)).toBeNull();
});

test('what is worth a call is of the pinned reference, not of the mean that has grown with it', () => {
  const frame = wet();
  const direction = new Float64Array(frame.q.length);
  direction[channel(frame, 18)] = 1;
  expect(pinnedShare(frame, direction)).toBe(1);
  frame.baseline.mean = frame.baseline.mean.map((value) => 1.25 * value);
  expect(pinnedShare(frame, direction)).toBeCloseTo(0.8, 9);
});
