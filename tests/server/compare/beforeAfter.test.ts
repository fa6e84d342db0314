/**
 * An alert that stands over a leak that grows. Truth by construction: stored pressures follow lines in ln P whose level at
 * the newest scan and whose growth an hour the test chose, with a scatter of two per cent.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { BeforeAfter } from '../../../shared/contract/beforeAfter.ts';
import { normals } from '../../shared/measurement/normals.ts';
import { FLEET, NOW, openWorld, putAlert, putReadings, type TestReading, type World } from '../world.ts';

let world: World;
const MINUTE = 60_000;
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * MINUTE);
const RAISED = 240;

beforeAll(async () => {
  world = await openWorld();
  expect((await world.ask('PUT', '/api/v1/fleet', { body: FLEET })).status).toBe(200);
});
afterAll(() => world.close());

const fresh = async (readings: readonly TestReading[]) => {
  await world.db.sql`truncate readings, latest, alerts, alert_moves, chamber_states, baselines`;
  await world.db.sql`
    insert into chamber_states (chamber, analyser, at, state)
    values ('n-prep-1', 'n-prep-1-a', ${minutesAgo(2000)}, 'base')`;
  await putAlert(world, { id: 'a-air', raisedAt: minutesAgo(RAISED) });
  await putReadings(world, readings);
};

/** Pressure, Pa, so many minutes before the newest scan. */
type Pressure = (ago: number) => number;
const steady =
  (pressurePa: number): Pressure =>
  () =>
    pressurePa;
/** So much at the newest scan, and so many times more each hour. */
const growing =
  (nowPa: number, timesAnHour: number): Pressure =>
  (ago) =>
    nowPa * timesAnHour ** (-ago / 60);

const scans = (from: number, to: number, gases: Readonly<Record<string, Pressure>>, every = 1): TestReading[] => {
  const next = normals(from + every);
  return Array.from({ length: Math.floor((from - to) / every) + 1 }, (_, k) => {
    const ago = from - k * every;
    const told = Object.entries(gases).map(([gas, at]) => [gas, at(ago) * Math.exp(0.02 * next())] as const);
    return { at: minutesAgo(ago), gases: Object.fromEntries(told) };
  });
};
const QUIET = { H2: steady(2e-7), N2: steady(8e-9), O2: steady(1e-10), Ar: steady(1e-10), CO2: steady(2e-8) };
const LEAKING = {
  H2: steady(2e-7),
  N2: growing(8e-7, 10),
  O2: growing(2e-7, 10),
  Ar: growing(1e-8, 1.3),
  // Bent in ln P: what a burst leaves as it is pumped away.
  CO2: (ago: number) => 2e-8 + 4e-7 * Math.exp((ago - 50) / 6),
};

const ask = async () =>
  (await world.ask('GET', '/api/v1/chambers/n-prep-1/before-after?alert=a-air')).body as BeforeAfter;
const gasOf = ({ gases }: BeforeAfter, gas: string) => gases.find((one) => one.gas === gas) as BeforeAfter['gases'][0];

describe('a leak that grows while its alert stands', () => {
  beforeAll(() => fresh([...scans(640, 370, QUIET), ...scans(60, 0, LEAKING)]));

  test('after is where each gas is at the newest scan, and its growth an hour holds the truth', async () => {
    const body = await ask();
    expect(body.verdict.word).toBe('still stands');
    const truths = [
      ['N2', 8e-7 / 8e-9, 10],
      ['O2', 2e-7 / 1e-10, 10],
      ['Ar', 1e-8 / 1e-10, 1.3],
    ] as const;
    for (const [gas, factor, perHour] of truths) {
      const found = gasOf(body, gas);
      expect(found.after).toMatchObject({ course: 'line', at: NOW.toISOString() });
      expect(found.changed).toBe('rose');
      expect(found.ratioLow as number).toBeLessThan(factor);
      expect(found.ratioHigh as number).toBeGreaterThan(factor);
      // Not an interval that says nothing: what the scans' own intervals leave to the patterns is most of it.
      expect((found.ratioHigh as number) / (found.ratioLow as number)).toBeLessThan(2.2);
      expect(found.after?.growth?.low as number).toBeLessThan(perHour);
      expect(found.after?.growth?.high as number).toBeGreaterThan(perHour);
      expect(found.after?.growth?.low as number).toBeGreaterThan(1);
    }
  });

  test('before is the middle of the quiet time; a gas at rest is at rest', async () => {
    const body = await ask();
    const { before, after, changed } = gasOf(body, 'H2');
    const middle = (Date.parse(body.before.from as string) + Date.parse(body.before.to as string)) / 2;
    expect(Math.abs(Date.parse(before?.at as string) - middle)).toBeLessThan(MINUTE);
    expect(changed).toBe('no');
    expect(after?.growth?.low as number).toBeLessThan(1);
    expect(after?.growth?.high as number).toBeGreaterThan(1);
    expect(body.after.scanAt).toBe(NOW.toISOString());
    expect(Date.parse(body.before.scanAt as string)).toBeLessThan(Date.parse(body.before.to as string));
  });

  test('a course that is no line has no growth, and the middle of its time with the interval of what moves', async () => {
    expect(gasOf(await ask(), 'CO2').after).toMatchObject({ course: 'curved', at: null, growth: null });
  });
});

describe('scans are seldom', () => {
  beforeAll(() => fresh([...scans(1190, 370, QUIET, 4), ...scans(200, 0, LEAKING, 4)]));

  test('both times last longer, so that there are enough for a line; at an unknown rate there are too few', async () => {
    await world.db.sql`update latest set scan_period_seconds = 240`;
    const body = await ask();
    expect(body.after.scans).toBeGreaterThanOrEqual(48);
    expect(gasOf(body, 'N2').after).toMatchObject({ course: 'line' });
    await world.db.sql`update latest set scan_period_seconds = null`;
    const short = await ask();
    expect(short.after.scans).toBeLessThan(20);
    expect(gasOf(short, 'N2').after).toMatchObject({ course: 'few scans', growth: null, at: null });
  });
});

test('a repair is compared by settled levels as ever', async () => {
  await fresh([...scans(200, 150, LEAKING), ...scans(60, 0, QUIET)]);
  await world.db.sql`
    update alerts set active = false, state = 'normal', returned_at = ${minutesAgo(120)} where id = 'a-air'`;
  const body = await ask();
  for (const { before, after } of body.gases) {
    expect([before?.course, after?.course]).toEqual(['level', 'level']);
    expect([before?.growth, after?.growth, before?.at, after?.at]).toEqual([null, null, null, null]);
  }
  expect(Date.parse(body.after.scanAt as string)).toBeLessThan(Date.parse(body.after.to as string));
});
