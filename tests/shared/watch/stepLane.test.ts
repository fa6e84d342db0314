import { describe, expect, test } from 'vitest';
import { ON_DELAY } from '../../../shared/watch/parameters.ts';
import { judgeStep } from '../../../shared/watch/stepLane.ts';
import { triggersOf } from '../../../shared/watch/triggers.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41);

/** Every gas of the chamber up by a share, and the gauge with it, a minute after a quiet block. */
function stepped(share: number, { before = true, quiet = false, scans = ON_DELAY } = {}) {
  const memory = draft(chamber);
  const zeros = memory.baselines.base!.mean.map(() => 0);
  const footing = `${memory.calibration} ${memory.baselines.base!.sinceMs}`;
  const quietBlock = { deviation: zeros, atMs: memory.lastAtMs!, footing };
  memory.calm = { state: 'base', footing, before: before ? quietBlock : null, now: null };
  const usual = frameOf(chamber, {}).reference.spectra;
  const change: Record<number, number> & { gauge?: number } = { gauge: 0 };
  for (const { channels } of usual) {
    memory.baselines.base!.masses.forEach((mass, i) => {
      change[mass] = (change[mass] ?? 0) + share * channels[i + 1]!;
    });
    change.gauge! += share * channels[0]!;
  }
  let called = null;
  for (let i = 0; i < scans; i++) {
    const frame = frameOf(chamber, change, { memory, times: i === 0 ? 3 : 1 });
    const triggers = triggersOf(frame.gasCauses, frame.ownCauses, frame.baseline, frame.reference);
    called = judgeStep(frame, triggers, quiet);
  }
  return { called, memory };
}

/** Air (N2 28, 14; Ar 40 by 1.6 % with the oxygen eaten), as a share of the nitrogen peak, a minute after a quiet block. */
test('air that steps is called by its step: walls do not give it off', () => {
  const memory = draft(chamber);
  const { mean, sinceMs } = memory.baselines.base!;
  const footing = `${memory.calibration} ${sinceMs}`;
  const before = { deviation: mean.map(() => 0), atMs: memory.lastAtMs!, footing };
  memory.calm = { state: 'base', footing, before, now: null };
  let called = null;
  for (let i = 0; i < ON_DELAY; i++) {
    const change = { 28: 6e-9, 14: 7e-10, 40: 1e-10, gauge: 1.8e-8 };
    const frame = frameOf(chamber, change, { memory, times: i === 0 ? 3 : 1 });
    called = judgeStep(frame, frame.triggers, false);
  }
  expect(called?.trigger.cause.id).toBe('air');
});

describe('a step of what is always there', () => {
  test('is called against the hour before when it has lasted for its on-delay', () => {
    expect(stepped(0.45).called?.trigger.cause.id).toBe('pumping');
    expect(stepped(0.45, { scans: ON_DELAY - 1 }).called).toBeNull();
  });

  test('is not when it is within the dead band, the scan is quiet, or nothing is known of before', () => {
    expect(stepped(0.2).called).toBeNull();
    expect(stepped(0.45, { before: false }).called).toBeNull();
    const { called, memory } = stepped(0.45, { quiet: true });
    expect(called).toBeNull();
    expect(memory.calm.steps ?? {}).toEqual({});
  });
});
