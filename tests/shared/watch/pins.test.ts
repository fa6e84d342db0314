import { describe, expect, test } from 'vitest';
import { median } from '../../../shared/watch/channels.ts';
import { learnPinned, type PinRequest } from '../../../shared/watch/pins.ts';
import { scanChannels } from '../../../shared/watch/scanChannels.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { streamOf } from '../../support/world/stream.ts';
import { calibrationOf } from '../../support/world.ts';

const world = makeWorld(51, { kind: 'baked', periodSeconds: 300, hasGauge: true });
const inputs = streamOf(world, { days: 5 / 24, quietTimetable: true, mishaps: false }).map(({ input }) => input);
const request: PinRequest = { state: 'base', calibration: calibrationOf(world), inputs, alertsInPeriod: [] };
const codeOf = (changed: Partial<PinRequest>): string => {
  const outcome = learnPinned({ ...request, ...changed });
  return outcome.kind === 'refused' ? outcome.code : outcome.kind;
};

describe('a baseline from a chosen period', () => {
  test('is the median of its scans, mass by mass, and says so', () => {
    const outcome = learnPinned(request);
    if (outcome.kind !== 'learned') throw new Error(outcome.reason);
    const masses = inputs[0]!.peaks.masses.filter((mass) => mass >= 1);
    const rows = inputs.map((input) => scanChannels(request.calibration, input, masses));
    for (const mass of [2, 18, 28, 44]) {
      const m = masses.indexOf(mass) + 1;
      expect(outcome.view.peaks[mass]).toBeCloseTo(median(rows.map((row) => row[m]!)), 20);
    }
    expect(outcome).toMatchObject({ scans: 60, fromMs: inputs[0]!.scan.atMs, untilMs: inputs.at(-1)!.scan.atMs });
  });

  test('is plain JSON', () => {
    const outcome = learnPinned(request);
    if (outcome.kind !== 'learned') throw new Error(outcome.reason);
    expect(JSON.parse(JSON.stringify(outcome.baseline))).toEqual(outcome.baseline);
  });

  test('is refused with the reason', () => {
    const [from] = [inputs[0]!.scan.atMs];
    expect(codeOf({ state: 'vented' })).toBe('state-not-watched');
    expect(codeOf({ state: 'gas-on' })).toBe('no-scans');
    expect(codeOf({ inputs: inputs.slice(0, 10) })).toBe('too-few-scans');
    const crowded = inputs.map((input, i) => ({ ...input, scan: { ...input.scan, atMs: from + i * 1000 } }));
    expect(codeOf({ inputs: crowded })).toBe('too-short');
    const stood = { signature: 'water', fromMs: from + HOUR * 1000, untilMs: null };
    expect(codeOf({ alertsInPeriod: [stood] })).toBe('alert-stood');
    expect(codeOf({ alertsInPeriod: [{ ...stood, fromMs: from - DAY * 2000, untilMs: from - DAY * 1000 }] })).toBe(
      'learned',
    );
    const halved = inputs.map((input, i) => (i % 2 ? { ...input, peaks: { ...input.peaks, scaled: false } } : input));
    expect(codeOf({ inputs: halved })).toBe('mixed-masses');
  });

  test('is refused where a plain peak has drifted by more than a tenth of a decade', () => {
    const drifting = inputs.map((input, i) => ({
      ...input,
      peaks: {
        ...input.peaks,
        heightPa: input.peaks.heightPa.map((height, k) =>
          [16, 17, 18].includes(input.peaks.masses[k]!) ? height * (1 + i / 60) : height,
        ),
      },
    }));
    const outcome = learnPinned({ ...request, inputs: drifting });
    expect(outcome).toMatchObject({ kind: 'refused', code: 'not-steady' });
  });
});
