/** Pump-downs with known shape: rest + P₁ t^−α, a few per cent of noise, every vent a little wetter or drier. */
import { describe, expect, test } from 'vitest';
import type { GasEstimate } from '../../../shared/analysis/types.ts';
import { emptyMemory, type Memory, sealed } from '../../../shared/watch/memory.ts';
import { followPumpDown, gridSeconds } from '../../../shared/watch/pumpDown.ts';
import { lateFinding } from '../../../shared/watch/pumpDownFinding.ts';
import { judgePumpDown, pumpDownNow } from '../../../shared/watch/pumpDownLate.ts';
import { learnRest } from '../../../shared/watch/pumpDownRest.ts';
import { slopeNow, usualAt } from '../../../shared/watch/pumpDownUsual.ts';
import { changeState } from '../../../shared/watch/timeline.ts';
import type { WatchEvent } from '../../../shared/watch/types.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';
import { runWorld } from '../../support/world/run.ts';

const { context, last } = watched(5);
const HOUR_MS = 3_600_000;
const REST = 2e-6;

interface Story {
  readonly memory: Memory;
  atMs: number;
  readonly events: { event: WatchEvent; hours: number }[];
}

const begin = (): Story => ({ memory: emptyMemory('1', 'base', 0), atMs: 0, events: [] });

const gas = (id: string, valuePa: number): GasEstimate => ({
  gas: id,
  valuePa,
  lowPa: 0.8 * valuePa,
  highPa: 1.2 * valuePa,
  sigmaPa: 0.05 * valuePa,
  detected: valuePa > 0,
});

function scan(story: Story, state: string, gaugePa: number | null, gases: readonly GasEstimate[], hours: number) {
  const { memory } = story;
  changeState(memory, state, story.atMs);
  const input = {
    ...last,
    scan: { ...last.scan, atMs: story.atMs, state, totalPressurePa: gaugePa },
    analysis: { ...last.analysis, gases, sumPa: gases.reduce((sum, { valuePa }) => sum + valuePa, 0) || null },
  };
  for (const event of judgePumpDown({ memory, context, input })) story.events.push({ event, hours });
  memory.lastAtMs = story.atMs;
}

interface Shape {
  /** Pressure without the level at rest, Pa, at hours since the vent. */
  readonly excess: (hours: number) => number;
  readonly gases?: (pressurePa: number) => readonly GasEstimate[];
  readonly hours?: number;
  readonly seed?: number;
  readonly gauge?: boolean;
  /** Hours in which nothing arrives. */
  readonly silent?: readonly [number, number];
}

const wet = (pressurePa: number) => [gas('H2O', 0.9 * pressurePa), gas('H2', 0.1 * pressurePa)];

/** A day at rest, a vent, and a pump-down: eight hours of it declared, then base. */
function pumpDown(
  story: Story,
  { excess, gases = wet, hours = 40, seed = 1, gauge = true, silent = [0, 0] }: Shape,
): void {
  const random = makeRandom(seed);
  const step = 5 / 60;
  const noisy = (pressurePa: number) => pressurePa * Math.exp(0.01 * random.normal());
  for (let t = 0; t < 24; t += step) {
    scan(story, 'base', gauge ? noisy(REST) : null, gases(REST), Number.NaN);
    story.atMs += step * HOUR_MS;
  }
  story.atMs += 3 * HOUR_MS;
  scan(story, 'vented', null, [], Number.NaN);
  story.atMs += step * HOUR_MS;
  const from = story.atMs;
  for (let t = 0; t < hours; t += step) {
    const pressurePa = noisy(REST + excess(Math.max(t, 0.05)));
    const isSilent = t >= silent[0] && t < silent[1];
    if (!isSilent) scan(story, t < 8 ? 'pump-down' : 'base', gauge ? pressurePa : null, gases(pressurePa), t);
    story.atMs = from + (t + step) * HOUR_MS;
  }
}

const usual = (wetness: number) => (hours: number) => (wetness * 2e-5) / hours;
const goodOnes = (story: Story, count: number, gauge = true) => {
  const random = makeRandom(77);
  for (let i = 0; i < count; i++)
    pumpDown(story, { excess: usual(Math.exp(0.2 * random.normal())), seed: i + 10, gauge });
  expect(story.events, 'a good pump-down is no news').toEqual([]);
};
const raised = ({ events }: Story) => events.filter(({ event }) => event.kind === 'raised');

describe('good pump-downs', () => {
  test('are kept as a few points, the newest eight', () => {
    const story = begin();
    goodOnes(story, 10);
    const { kept } = story.memory.overTime.pumpDown;
    expect(kept).toHaveLength(8);
    // Back at rest when the tail has fallen to half of the level: 2×10⁻⁵/t = 10⁻⁶ after 20 h, give or take the wetness.
    for (const { durationSeconds, log10 } of kept) {
      expect(durationSeconds / 3600).toBeGreaterThan(11);
      expect(durationSeconds / 3600).toBeLessThan(35);
      expect(log10.length).toBeLessThan(41);
    }
    expect(JSON.stringify(kept).length).toBeLessThan(5000);
  });

  test('what is usual at a time is their middle', () => {
    const story = begin();
    goodOnes(story, 5);
    const { kept } = story.memory.overTime.pumpDown;
    const run = { ...kept[0]!, fromMs: -1 } as unknown as Parameters<typeof usualAt>[0];
    const after = usualAt(run, kept, 2 * 3600)!;
    expect(10 ** after.log10).toBeGreaterThan(0.75 * (REST + 1e-5));
    expect(10 ** after.log10).toBeLessThan(1.35 * (REST + 1e-5));
    expect(after.sigmaDecades).toBeGreaterThan(0.05);
    expect(usualAt(run, kept.slice(0, 1), 7200)).toBeNull();
    expect(usualAt(run, kept, gridSeconds(-6))).toBeNull();
  });

  test('a pump-down that went wrong is no example', () => {
    const story = begin();
    goodOnes(story, 2);
    pumpDown(story, { excess: (hours) => 1e-4 / hours ** 0.2, seed: 3 });
    expect(story.memory.overTime.pumpDown.kept).toHaveLength(2);
  });
});

describe('late', () => {
  test('a leak is called early, with the time it would take, and air as its reason', () => {
    const story = begin();
    goodOnes(story, 4);
    const air = (p: number) => [gas('N2', 0.7 * p), gas('O2', 0.15 * p), gas('Ar', 0.0085 * p), gas('H2O', 0.1 * p)];
    pumpDown(story, { excess: (hours) => usual(1)(hours) + 6e-5, gases: air, seed: 4 });
    const [alert] = raised(story);
    const { event, hours } = alert!;
    // Usually at rest after about 20 h: a fifth of that is 4 h.
    expect(hours).toBeLessThan(4);
    expect(event).toMatchObject({ signature: 'pump-down-late', priority: 'low' });
    const finding = event.kind === 'raised' ? event.finding : null!;
    expect(finding.summary).toMatch(/^This pump-down is late: .*\u00a0Pa after .*, .* times the usual at this time\./);
    expect(finding.alternatives[0]!.signature).toBe('air-leak');
    expect(finding.evidence.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['Gauge', 'Slope α of P ~ t^−α', 'Share of air, by argon']),
    );
    expect(story.events.some(({ event: other }) => other.kind === 'returned')).toBe(false);
  });

  test('four times as wet is called, said to be wet, and returns when it has caught up', () => {
    const story = begin();
    goodOnes(story, 5);
    const caught = (hours: number) => (hours < 6 ? 5 : 5 * Math.exp(-(hours - 6))) * usual(1)(hours);
    pumpDown(story, { excess: (hours) => Math.max(usual(0.9)(hours), caught(hours)), seed: 6 });
    const [alert] = raised(story);
    expect(alert!.hours).toBeLessThan(4);
    const finding = alert!.event.kind === 'raised' ? alert!.event.finding : null!;
    expect(finding.summary).toContain('mostly water');
    expect(story.events.map(({ event }) => event.kind)).toEqual(['raised', 'returned']);
  });

  test('without a gauge the sum is followed', () => {
    const story = begin();
    goodOnes(story, 3, false);
    pumpDown(story, { excess: (hours) => usual(1)(hours) + 8e-5, seed: 8, gauge: false });
    expect(raised(story)).toHaveLength(1);
  });

  test('with fewer than two good ones only what has stopped falling is said', () => {
    const wetter = begin();
    goodOnes(wetter, 1);
    pumpDown(wetter, { excess: usual(6), seed: 2 });
    expect(raised(wetter)).toEqual([]);
    const stuck = begin();
    pumpDown(stuck, { excess: (hours) => 1e-4 / hours + 3e-5, seed: 2 });
    const [alert] = raised(stuck);
    expect(alert!.event.kind === 'raised' && alert!.event.finding.summary).toMatch(/has stopped falling/);
  });

  test('the first two hours may be flat: what walls do begins later', () => {
    const story = begin();
    pumpDown(story, { excess: (hours) => 3e-5 / Math.max(0.8, hours), seed: 2 });
    expect(raised(story)).toEqual([]);
  });

  test('what nobody saw is not flat: after hours without scans the course begins anew', () => {
    const story = begin();
    pumpDown(story, { excess: (hours) => 1e-2 * Math.exp(-hours / 0.1) + 1e-4 / hours, silent: [0.4, 4.5], seed: 2 });
    expect(raised(story)).toEqual([]);
  });

  test('where it stands can be read at any time, and the memory survives as JSON', () => {
    const story = begin();
    goodOnes(story, 3);
    expect(pumpDownNow(sealed(story.memory))).toBeNull();
    pumpDown(story, { excess: usual(1), seed: 9, hours: 5 });
    const now = pumpDownNow(JSON.parse(JSON.stringify(story.memory)))!;
    expect(now.ageSeconds / 3600).toBeGreaterThan(4.8);
    expect(now.slope!.exponent).toBeGreaterThan(0.5);
    expect(now.arrival!.at).toBeGreaterThan(now.ageSeconds);
    expect(now.pressurePa / now.usualPa!).toBeGreaterThan(0.5);
    expect(now.pressurePa / now.usualPa!).toBeLessThan(2);
    expect(slopeNow(story.memory.overTime.pumpDown.run!)).toEqual(now.slope);
  });
});

test('the level at rest is learned in quiet base alone', () => {
  const memory = emptyMemory('1', 'base', 0);
  const input = { ...last, scan: { ...last.scan, totalPressurePa: 3e-6 }, analysis: { ...last.analysis, sumPa: 2e-6 } };
  learnRest({ ...memory, state: 'gas-on' }, input);
  expect(memory.overTime.pumpDown.rest).toEqual({});
  learnRest(memory, input);
  expect(10 ** memory.overTime.pumpDown.rest.gauge!).toBeCloseTo(3e-6, 12);
  expect(10 ** memory.overTime.pumpDown.rest.sum!).toBeCloseTo(2e-6, 12);
});

test('one that nobody declared begins with the gap before it, and is held only against its like', () => {
  const story = begin();
  goodOnes(story, 3);
  const { memory } = story;
  const settling = { short: false, atMs: story.atMs } as Memory['settling'];
  memory.settling = settling;
  scan(story, 'base', 40 * REST, wet(40 * REST), 0);
  const run = memory.overTime.pumpDown.run!;
  expect(run).toMatchObject({ declared: false, fromMs: story.atMs });
  expect(usualAt(run, memory.overTime.pumpDown.kept, 3600)).toBeNull();
});

test('a pump-down goes on through a leak check and ends with a bake, which is where it was going', () => {
  const story = begin();
  const step = (state: string, pressurePa: number) => {
    changeState(story.memory, state, story.atMs);
    const input = { ...last, scan: { ...last.scan, atMs: story.atMs, state, totalPressurePa: pressurePa } };
    const result = followPumpDown({ memory: story.memory, context, input });
    story.memory.lastAtMs = story.atMs;
    story.atMs += HOUR_MS / 6;
    return result;
  };
  for (let i = 0; i < 12; i++) step('pump-down', 1e-4 / (i + 1));
  expect(step('leak-check', 1).fresh).toBe(false);
  expect(step('pump-down', 5e-6)).toMatchObject({ fresh: true, ended: null });
  expect(step('bake', 1e-4)).toMatchObject({ run: null });
  expect(story.memory.overTime.pumpDown.kept).toHaveLength(1);
});

test('a scan that shows no gas at all is no pressure: with the emission off during roughing the sum is noise', () => {
  const story = begin();
  const dark = [{ ...gas('H2O', 2e-11), detected: false }];
  for (let i = 0; i < 3; i++) {
    scan(story, 'roughing', null, dark, 0);
    expect(story.memory.overTime.pumpDown.run).toBeNull();
    story.atMs += HOUR_MS / 4;
  }
  scan(story, 'pump-down', 2e-4, wet(2e-4), 0);
  expect(story.memory.overTime.pumpDown.run).toMatchObject({ source: 'gauge', declared: true });
});

describe('when it will be at rest', () => {
  const hour = 3600;
  const said = (arrival: { at: number; earliest: number; latest: number }) =>
    lateFinding(
      {
        fromMs: 0,
        source: 'gauge',
        ageSeconds: 2 * hour,
        pressurePa: 3.1e-4,
        usualPa: 7e-5,
        lateAbovePa: 1.6e-4,
        usualDurationSeconds: 9 * hour,
        pumpDowns: 4,
        slope: { exponent: 0.02, low: -0.05, high: 0.1, log10AtOne: -3, points: 8 },
        targetPa: 1e-5,
        arrival,
      },
      [],
    );
  const never = Number.POSITIVE_INFINITY;

  test('the sentence of one that never arrives', () => {
    expect(said({ at: never, earliest: 1e9, latest: never }).summary).toBe(
      'This pump-down is late: 3.1×10⁻⁴\u00a0Pa after 2\u00a0hours, 4.4 times the usual at this time. At this rate it does not reach its level at rest, usually after 9\u00a0hours. It has stopped falling, as with a leak or permeation. Likely.',
    );
  });

  test('hours say nothing of what lies a month ahead: no number is made of it', () => {
    const far = said({ at: 1e38, earliest: 4e7, latest: never });
    expect(far.summary).toContain('At this rate it is not at rest within 30\u00a0days, usually after 9\u00a0hours.');
    expect(far.evidence.find(({ name }) => name.startsWith('Time until'))).toMatchObject({
      value: null,
      low: null,
      high: null,
      verdict: 'not within 30\u00a0days at this rate',
    });
    const wide = said({ at: 20 * hour, earliest: 12 * hour, latest: 1e9 });
    expect(wide.summary).toContain('at rest in 18\u00a0hours (10\u00a0hours to more than 30\u00a0days)');
    expect(wide.evidence.find(({ name }) => name.startsWith('Time until'))).toMatchObject({
      value: 18 * hour,
      low: 10 * hour,
      high: null,
    });
  });
});

test('through the whole watch: the fifth pump-down with a weak pump is called while it is declared', () => {
  const world = makeWorld(12, { kind: 'unbaked', periodSeconds: 1200, hasGauge: true });
  const day = 86_400;
  const hour = 3600;
  const vents = [1, 3, 5, 7, 9].map((at) => at * day);
  const spans = vents.flatMap((from) => [
    { from, to: from + 3 * hour, state: 'vented' },
    { from: from + 3 * hour, to: from + 15 * hour, state: 'pump-down' },
  ]);
  const fault = { kind: 'pumping', size: 14, fromSeconds: vents.at(-1)! } as const;
  const { events, last: end } = runWorld(world, { days: 9.8, spans, mishaps: false, fault });
  const late = events.filter(({ event }) => event.signature === 'pump-down-late');
  expect(late.map(({ event }) => event.kind)).toEqual(['raised']);
  const hours = (late[0]!.seconds - vents.at(-1)! - 3 * hour) / hour;
  expect(hours).toBeGreaterThan(0);
  expect(hours).toBeLessThan(4);
  expect(pumpDownNow(end!.memory)!.pumpDowns).toBeGreaterThanOrEqual(2);
});
