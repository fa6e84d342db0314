/** What must come out is known by construction: readings are stored with the pressures that the test chose. */
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { BeforeAfter } from '../../../shared/contract/beforeAfter.ts';
import { FLEET, NOW, openWorld, putAlert, putReadings, type TestReading, type World } from '../world.ts';

let world: World;
const A = 'n-prep-1-a';
const HOUR = 3_600_000;
const hoursAgo = (hours: number) => new Date(NOW.getTime() - hours * HOUR);

const sisters = Array.from({ length: 6 }, (_, k) => `n-sister-${k}`);

beforeAll(async () => {
  world = await openWorld();
  const fleet = {
    ...FLEET,
    chambers: [
      ...FLEET.chambers,
      ...sisters.map((id, k) => ({ id, name: `Sister ${k}`, area: 'north', kind: 'preparation' })),
    ],
    analysers: [...FLEET.analysers, ...sisters.map((id) => ({ id: `${id}-a`, chamber: id }))],
  };
  const applied = await world.ask('PUT', '/api/v1/fleet', { body: fleet });
  expect(applied.status).toBe(200);
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate readings, latest, alerts, alert_moves, chamber_states, baselines`;
});

type Gases = NonNullable<TestReading['gases']>;
const LEAKING: Gases = { H2: 2e-7, N2: 3e-7, O2: 7e-8, Ar: 4e-9, He: { below: 3e-11 } };
const TIGHT: Gases = { H2: 2e-7, N2: 8e-9, O2: { below: 4e-11 }, Ar: 1e-10, He: { below: 3e-11 } };

/** A scan every four minutes, with a ripple of a few per cent that no neighbour shares. */
const scans = (fromHoursAgo: number, toHoursAgo: number, gases: Gases, changed: Partial<TestReading> = {}) => {
  const count = Math.round((fromHoursAgo - toHoursAgo) * 15);
  return Array.from({ length: count }, (_, k): TestReading => {
    const ripple = 1 + 0.03 * Math.sin(2.399 * k);
    const rippled = Object.entries(gases).map(([gas, value]) => [
      gas,
      typeof value === 'number' ? value * ripple : value,
    ]);
    return {
      at: new Date(hoursAgo(fromHoursAgo).getTime() + k * 240_000),
      gases: Object.fromEntries(rippled),
      ...changed,
    };
  });
};

const putStates = async (changes: readonly (readonly [number, string])[]) => {
  for (const [hours, state] of changes)
    await world.db.sql`
      insert into chamber_states (chamber, analyser, at, state) values ('n-prep-1', ${A}, ${hoursAgo(hours)}, ${state})`;
};
const putUsual = async (gases: Readonly<Record<string, number>>, since = hoursAgo(500)) => {
  const told = Object.fromEntries(
    Object.entries(gases).map(([gas, pressure]) => [
      gas,
      { medianLog10Pa: Math.log10(pressure), sigmaDecades: 0.05, halfWidthDecades: 0.15, scans: 500, frozen: false },
    ]),
  );
  await world.db.sql`
    insert into baselines (chamber, analyser, state, gases, peaks, since, until)
    values ('n-prep-1', ${A}, 'base', ${world.db.sql.json(told)}, '{}', ${since}, ${hoursAgo(60)})`;
};
const USUAL = { H2: 2e-7, N2: 8e-9, O2: 4e-11, Ar: 1e-10, He: 3e-11 };

const ask = async (query = '') => {
  const { status, body } = await world.ask('GET', `/api/v1/chambers/n-prep-1/before-after?${query}`);
  return { status, body: body as BeforeAfter };
};
const gasOf = (body: BeforeAfter, gas: string) =>
  body.gases.find((one) => one.gas === gas) as BeforeAfter['gases'][number];

/** Vented 100 h ago, leaking from 60 h ago, opened again 50 h ago, tight since. */
const repaired = async () => {
  await putStates([
    [102, 'vented'],
    [100, 'pump-down'],
    [96, 'base'],
    [50, 'vented'],
    [48, 'pump-down'],
    [44, 'base'],
  ]);
  await putReadings(world, [...scans(58, 50, LEAKING), ...scans(12, 0, TIGHT)]);
  await putUsual(USUAL);
  await putAlert(world, { id: 'a-air', raisedAt: hoursAgo(60) });
};

describe('a repair between two vents', () => {
  test('worked: every gas of the alert is back, at the same time since vent', async () => {
    await repaired();
    const { status, body } = await ask('unit=mbar');
    expect(status).toBe(200);
    expect(body.verdict).toEqual({ word: 'worked', back: ['N2', 'O2', 'Ar'], notBack: [], missing: [], equalAt: null });
    expect(body.alert).toMatchObject({ id: 'a-air', gases: ['N2', 'O2', 'Ar'], endedAt: null });
    expect(body.between).toEqual({ from: hoursAgo(50).toISOString(), to: hoursAgo(48).toISOString() });
    // After is 48 h from its vent at most; before was that 52 h ago.
    expect(Date.parse(body.before.to as string)).toBeLessThanOrEqual(hoursAgo(52).getTime());
    expect(Date.parse(body.before.from as string)).toBeGreaterThanOrEqual(hoursAgo(56.2).getTime());
    const since = [body.before, body.after].map(({ sinceVent }) => (sinceVent?.seconds ?? 0) / 3600);
    expect(Math.abs((since[0] ?? 0) - (since[1] ?? 0))).toBeLessThan(0.1);
    expect(body.likeness.map(({ is }) => is)).toEqual(['alike', 'alike', 'unknown', 'alike', 'alike']);
    const nitrogen = gasOf(body, 'N2');
    expect((nitrogen.ratio as number) / (8e-9 / 3e-7)).toBeCloseTo(1, 2);
    expect(nitrogen.ratioLow as number).toBeLessThan(8e-9 / 3e-7);
    expect(nitrogen.ratioHigh as number).toBeGreaterThan(8e-9 / 3e-7);
    expect(nitrogen).toMatchObject({ inAlert: true, changed: 'fell', judgement: 'back' });
    expect((nitrogen.before?.value as number) / 3e-9).toBeCloseTo(1, 2);
    const oxygen = gasOf(body, 'O2');
    expect(oxygen).toMatchObject({ ratio: null, ratioLow: 0, changed: 'fell', judgement: 'below detection again' });
    expect(1 / (oxygen.ratioHigh as number)).toBeGreaterThan(1000);
    expect(1 / (oxygen.ratioHigh as number)).toBeLessThan(7e-8 / 4e-11);
    expect(gasOf(body, 'H2')).toMatchObject({ inAlert: false, changed: 'no', judgement: 'as usual' });
    expect(gasOf(body, 'He')).toMatchObject({ ratio: null, changed: 'cannot tell', judgement: 'not seen' });
  });

  test('the leak in Pa·m³/s, from argon and the pumping speed of the fleet document', async () => {
    await repaired();
    const { leak } = (await ask()).body;
    // (4×10⁻⁹ − 1×10⁻¹⁰) Pa · 0.25 m³/s / 0.00934.
    expect((leak?.before.value as number) / 1.0439e-7).toBeCloseTo(1, 1);
    expect(leak).toMatchObject({ gas: 'Ar', unit: 'Pa*m3/s', after: { value: null, low: 0 } });
    expect(leak?.timesLessAtLeast).toBeGreaterThan(50);
  });

  test('did not work: the same gases stand as before', async () => {
    await repaired();
    await world.db.sql`delete from readings where at > ${hoursAgo(13)}`;
    await putReadings(world, scans(12, 0, { ...LEAKING, O2: 6e-8 }));
    expect((await ask()).body.verdict).toMatchObject({ word: 'did not work', notBack: ['N2', 'O2', 'Ar'] });
  });

  test('cannot tell while the chamber is not yet as long after its vent, and says when it will be', async () => {
    await putStates([
      [302, 'vented'],
      [300, 'pump-down'],
      [290, 'base'],
      [10, 'vented'],
      [9, 'pump-down'],
      [5, 'base'],
    ]);
    await putReadings(world, [...scans(30, 10, LEAKING), ...scans(4, 0, TIGHT)]);
    await putUsual(USUAL);
    await putAlert(world, { id: 'a-air', raisedAt: hoursAgo(32) });
    const { verdict, likeness, gases } = (await ask()).body;
    expect(verdict).toMatchObject({ word: 'cannot tell', back: ['N2', 'O2', 'Ar'] });
    expect(verdict.missing).toEqual([{ what: 'other time since vent', gases: [] }]);
    expect(likeness[1]).toEqual({ name: 'time since vent', is: 'differs' });
    expect(Date.parse(verdict.equalAt as string)).toBeGreaterThan(NOW.getTime());
    expect(gases.find(({ gas }) => gas === 'N2')?.changed).toBe('fell');
  });

  test('cannot tell where what is usual was learned after the fault had begun', async () => {
    await repaired();
    await world.db.sql`update baselines set since = ${hoursAgo(40)}`;
    expect((await ask()).body.verdict.missing).toEqual([{ what: 'usual range is younger', gases: [] }]);
  });

  test('while the alert stands and nothing was opened since: what it changed, and no word of a repair', async () => {
    await putStates([[100, 'base']]);
    await putReadings(world, [...scans(30, 20, TIGHT), ...scans(20, 0, LEAKING)]);
    await putUsual(USUAL);
    await putAlert(world, { id: 'a-air', raisedAt: hoursAgo(19) });
    const { body } = await ask('alert=a-air');
    expect(body.verdict).toEqual({
      word: 'still stands',
      back: [],
      notBack: ['N2', 'O2', 'Ar'],
      missing: [],
      equalAt: null,
    });
    expect([body.between, body.leak]).toEqual([null, null]);
    // Raised 19 h ago, called for two hours at most before: quiet up to 21 h ago.
    expect(Date.parse(body.before.to as string)).toBeLessThanOrEqual(hoursAgo(21).getTime());
    expect(Date.parse(body.after.from as string)).toBeGreaterThanOrEqual(hoursAgo(1).getTime());
    const nitrogen = gasOf(body, 'N2');
    expect(nitrogen).toMatchObject({ inAlert: true, changed: 'rose', judgement: 'above now' });
    expect((nitrogen.ratio as number) / (3e-7 / 8e-9)).toBeCloseTo(1, 1);
    expect(gasOf(body, 'H2').changed).toBe('no');
    expect((await ask()).body).toEqual(body);
  });

  test('without a quiet time before it nothing is set against it, and that is said', async () => {
    await putStates([[20, 'base']]);
    await putReadings(world, scans(19, 0, LEAKING));
    await putAlert(world, { id: 'a-air', raisedAt: hoursAgo(20) });
    const { verdict, before } = (await ask()).body;
    expect(verdict).toMatchObject({ word: 'cannot tell', missing: [{ what: 'no scans before', gases: [] }] });
    expect(before).toMatchObject({ scans: 0, from: null, to: null });
  });

  test('a repair between two vents is shown first, though a newer alert stands', async () => {
    await repaired();
    await world.db.sql`update alerts set active = false, state = 'normal', returned_at = ${hoursAgo(40)}`;
    await putAlert(world, { id: 'a-new', raisedAt: hoursAgo(5) });
    expect((await ask()).body.alert?.id).toBe('a-air');
    expect((await ask('alert=a-new')).body.verdict.word).toBe('still stands');
  });

  test('another calibration is said first, and the sensitivity comes back into the interval', async () => {
    await repaired();
    const same = gasOf((await ask()).body, 'N2');
    await world.db.sql`update readings set calibration_version = 'n-prep-1-a/2' where at > ${hoursAgo(13)}`;
    await world.db.sql`
      update latest set measurement = ${world.db.sql.json({
        sensitivityErrors: { N2: { absolute: 0.11, ratio: 0.1, catalogue: 0 } },
      } as never)} where analyser = ${A}`;
    const { body } = await ask();
    expect(body.likeness[3]).toEqual({ name: 'analyser and calibration', is: 'differs' });
    expect(body.notes.map(({ code }) => code)).toEqual(['sensitivity-stays']);
    expect(body.verdict.word).toBe('worked');
    const width = ({ ratioLow, ratioHigh }: typeof same) => Math.log((ratioHigh as number) / (ratioLow as number));
    const other = width(gasOf(body, 'N2'));
    await world.db.sql`update readings set calibration_version = 'n-prep-1-a/1'`;
    // With the sensitivity known to be most of a scan's interval, hardly anything of it is left in a ratio.
    expect(width(gasOf((await ask()).body, 'N2'))).toBeLessThan(other / 3);
    expect(width(same)).toBeCloseTo(other, 1);
  });
});

describe('times of a person’s own', () => {
  const span = (side: string, from: number, to: number) =>
    `${side}From=${hoursAgo(from).toISOString()}&${side}To=${hoursAgo(to).toISOString()}`;

  test('any two times, and no alert: only what changed is said', async () => {
    await repaired();
    const { body } = await ask(`alert=&${span('before', 55, 53)}&${span('after', 3, 1)}`);
    expect(body.alert).toBeNull();
    expect(body.alerts.map(({ id }) => id)).toEqual(['a-air']);
    expect(body.verdict.word).toBe('no alert');
    expect([body.before.scans, body.after.scans]).toEqual([31, 31]);
  });

  test('the state that most of the scans are in counts', async () => {
    await repaired();
    await world.db.sql`update readings set state = 'gas-on' where at > ${hoursAgo(1.5)}`;
    const { body } = await ask(`${span('before', 55, 53)}&${span('after', 3, 1)}`);
    expect(body.after).toMatchObject({ state: 'base', scans: 23 });
    await world.db.sql`update readings set state = 'gas-on' where at > ${hoursAgo(12)}`;
    const unlike = (await ask(`${span('before', 55, 53)}&${span('after', 3, 1)}`)).body;
    expect(unlike.likeness[0]).toEqual({ name: 'state', is: 'differs' });
    expect(unlike.verdict.missing.map(({ what }) => what)).toContain('other state');
  });

  test('faults are refused at their field', async () => {
    await repaired();
    const refused = async (query: string) => {
      const answer = await world.ask('GET', `/api/v1/chambers/n-prep-1/before-after?${query}`);
      return [answer.status, answer.body.errors?.[0]?.path];
    };
    expect(await refused(`beforeFrom=${hoursAgo(3).toISOString()}`)).toEqual([422, 'beforeTo']);
    expect(await refused(span('after', 1, 3))).toEqual([422, 'afterFrom']);
    expect(await refused('afterFrom=noon&afterTo=later')).toEqual([400, 'afterFrom']);
    expect(await refused('alert=ghost')).toEqual([422, 'alert']);
    expect((await ask('analyser=ghost')).status).toBe(404);
    expect((await ask('analyser=s-load-1-a')).status).toBe(404);
    expect((await world.ask('GET', '/api/v1/chambers/nowhere/before-after')).status).toBe(404);
    expect((await world.ask('GET', '/api/v1/chambers/n-prep-1/before-after', { token: null })).status).toBe(401);
  });

  test('a chamber without vents and without alerts: nothing to compare, and no answer that looks like one', async () => {
    await putStates([[100, 'base']]);
    await putReadings(world, scans(10, 0, TIGHT));
    const { status, body } = await ask();
    expect(status).toBe(200);
    expect(body.verdict).toMatchObject({ word: 'no alert', missing: [{ what: 'no scans after', gases: [] }] });
    expect(body.gases.every(({ after, ratio }) => after === null && ratio === null)).toBe(true);
  });
});

describe('sister chambers', () => {
  const sistersOf = async (query = '') => (await world.ask('GET', `/api/v1/chambers/n-prep-1/sisters?${query}`)).body;
  const put = (chamber: string, analyser: string, gases: Gases, state = 'base') =>
    scans(1, 0, gases, { chamber, analyser, state });

  test('the odd one out is named, by level and by drift', async () => {
    await putReadings(world, [
      ...put('n-prep-1', A, { N2: 3e-7, H2: 2e-7 }),
      ...sisters.flatMap((id, k) => put(id, `${id}-a`, { N2: 8e-9 * (1 + 0.1 * k), H2: 2e-7 * (1 + 0.05 * k) })),
    ]);
    await putUsual({ N2: 8e-9, H2: 2e-7 });
    const body = await sistersOf('unit=mbar');
    expect(body).toMatchObject({ kind: 'preparation', state: 'base', unit: 'mbar', scans: 15 });
    expect(body.sisters).toHaveLength(6);
    expect(body.verdict).toEqual({ word: 'stands out', gases: ['N2'] });
    const [hydrogen, nitrogen] = body.gases;
    expect(hydrogen).toMatchObject({ gas: 'H2', so: 'alike' });
    // Sisters have learned nothing, so that drift cannot be told: the level speaks alone.
    expect(nitrogen).toMatchObject({ gas: 'N2', so: 'level only', drift: null, seenBy: 6 });
    expect(nitrogen.level.z).toBeGreaterThan(3.5);
    expect(nitrogen.own / 3e-9).toBeCloseTo(1, 1);
    expect(nitrogen.ownDrift / 37.5).toBeCloseTo(1, 1);
    expect(nitrogen.marks).toHaveLength(6);
    // The chamber's own 3×10⁻⁹ mbar is not in the middle of its sisters: 8×10⁻¹¹ · √(1.2 · 1.3).
    expect(nitrogen.middle / 1e-10).toBeCloseTo(1, 1);
    expect(hydrogen.middle / (2e-9 * Math.sqrt(1.1 * 1.15))).toBeCloseTo(1, 2);
  });

  test('in another state than the chamber’s they are absent, and few sisters tell nothing', async () => {
    await putReadings(world, [
      ...put('n-prep-1', A, { N2: 3e-7 }),
      ...sisters.slice(0, 2).flatMap((id) => put(id, `${id}-a`, { N2: 8e-9 })),
      ...sisters.slice(2).flatMap((id) => put(id, `${id}-a`, { N2: 8e-9 }, 'gas-on')),
    ]);
    const body = await sistersOf();
    expect(body.verdict).toEqual({ word: 'too few', gases: [] });
    expect([body.sisters.length, body.absent.length]).toEqual([2, 4]);
    expect(body.gases[0]).toMatchObject({ so: 'too few', level: null, middle: null });
    expect(body.gases[0].marks).toHaveLength(2);
    expect(await sistersOf('state=gas-on')).toMatchObject({ verdict: { word: 'no scans' }, gases: [] });
  });

  test('alone in its state: no sister, no middle', async () => {
    await putReadings(world, put('n-prep-1', A, { N2: 3e-7 }));
    const body = await sistersOf();
    expect(body).toMatchObject({ verdict: { word: 'too few' }, sisters: [] });
    expect(body.gases[0]).toMatchObject({ own: expect.any(Number), middle: null, middleDrift: null, marks: [] });
  });

  test('no kind, no scans, no chamber', async () => {
    const lone = await world.ask('GET', '/api/v1/chambers/s-load-1/sisters');
    expect(lone.body).toMatchObject({ kind: null, verdict: { word: 'no kind' } });
    expect((await sistersOf()).verdict.word).toBe('no scans');
    expect((await world.ask('GET', '/api/v1/chambers/nowhere/sisters')).status).toBe(404);
    expect((await world.ask('GET', '/api/v1/chambers/n-prep-1/sisters?state=asleep')).status).toBe(400);
  });
});
