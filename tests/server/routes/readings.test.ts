import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putAlert, putReadings, type TestReading, type World } from '../world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db
    .sql`truncate readings, latest, alerts, alert_moves, chamber_states, baselines, tasks, recomputed_readings`;
});

const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const get = (path: string, headers: Record<string, string> = {}) =>
  world.ask('GET', `/api/v1/chambers/${path}`, { headers });

describe('the latest reading', () => {
  test('comes in the asked unit, with intervals, and tells what was not detected', async () => {
    const at = minutesAgo(1);
    await putReadings(world, [{ at, gaugePa: 2e-6, gases: { N2: 1e-7, He: { below: 3e-11 } } }]);
    expect((await get('n-prep-1/readings/latest?unit=Pa')).body).toEqual({
      at: at.toISOString(),
      analyser: 'n-prep-1-a',
      state: 'base',
      unit: 'Pa',
      total: { gauge: 2e-6, sum: 1e-6 },
      gases: {
        N2: { value: 1e-7, low: 8e-8, high: 1.25e-7, detected: true },
        He: { value: 0, low: 0, high: 3e-11, detected: false },
      },
      floor: 1e-11,
      decades: 5,
      unexplained: 0.01,
      notes: [],
    });
    const { body } = await get('n-prep-1/readings/latest?unit=Torr');
    // 1 Torr = 101325/760 Pa (NIST SP 811, appendix B.8).
    expect(body.gases.N2.value).toBeCloseTo((1e-7 * 760) / 101325, 14);
    expect(body.floor).toBeCloseTo((1e-11 * 760) / 101325, 17);
  });

  test('is of the analyser that is named, else of the first that still sends', async () => {
    const latest = async (query = '') => (await get(`n-prep-1/readings/latest${query}`)).body.analyser;
    await putReadings(world, [
      { at: minutesAgo(3), analyser: 'n-prep-1-a' },
      { at: minutesAgo(1), analyser: 'n-prep-1-b' },
    ]);
    expect(await latest()).toBe('n-prep-1-a');
    expect(await latest('?analyser=n-prep-1-b')).toBe('n-prep-1-b');
    await putReadings(world, [{ at: minutesAgo(-30), analyser: 'n-prep-1-b' }]);
    expect(await latest()).toBe('n-prep-1-b');
  });

  test('is 404 with a reason where there is none', async () => {
    expect(await get('n-prep-1/readings/latest')).toMatchObject({
      status: 404,
      body: { detail: expect.stringMatching(/analysed yet/) },
    });
    expect(await get('nowhere/readings/latest')).toMatchObject({
      status: 404,
      body: { detail: expect.stringMatching(/no chamber nowhere/) },
    });
    expect((await get('n-prep-1/readings/latest?unit=bar')).status).toBe(400);
    expect((await get('n-prep-1/readings/latest?units=Pa')).status).toBe(400);
  });
});

describe('a recomputation', () => {
  const sql = () => world.db.sql;
  const putTask = (id: string, changed: { state?: string; kind?: string; chamber?: string; problem?: string } = {}) => {
    const { state = 'done', kind = 'recomputation', chamber = 'n-prep-1', problem = null } = changed;
    return sql()`
      insert into tasks (chamber, analyser, id, kind, request, state, asked_at, asked_by, problem)
      values (${chamber}, ${chamber === 'n-prep-1' ? 'n-prep-1-b' : 's-load-1-a'}, ${id}, ${kind}, '{}', ${state}, ${NOW},
        'x', ${problem})`;
  };
  /** The stored readings again, under a task, with values and a calibration of their own. */
  const putRecomputed = async (task: string, calibration: string) => {
    await sql()`
      insert into recomputed_readings (chamber, task, at, scan_id, gas_list, estimates, detected, floor_pa, notes,
        calibration_version, catalogue_version)
      select chamber, ${task}, at, scan_id, gas_list, estimates, detected, floor_pa, '[]', ${calibration}, 'catalogue-1'
      from readings where analyser = 'n-prep-1-b'`;
    await sql()`delete from readings where analyser = 'n-prep-1-b'`;
  };
  const from = minutesAgo(60).toISOString();
  const query = (task: string, more = '') => `n-prep-1/trend?gases=N2&from=${from}&recomputation=${task}${more}`;

  test('is a series of its own that names its task and calibration, and leaves the judged one alone', async () => {
    await putReadings(world, [{ at: minutesAgo(10), gases: { N2: 5e-8 }, analyser: 'n-prep-1-b' }]);
    await putRecomputed('task-1', 'n-prep-1-b/1+cal-7');
    await putReadings(world, [{ at: minutesAgo(10), gases: { N2: 1e-8 }, analyser: 'n-prep-1-b' }]);
    await putTask('task-1');
    const { body } = await get(query('task-1'));
    expect(body.analyser).toBe('n-prep-1-b');
    expect(body.series.N2).toMatchObject([{ value: 5e-8 }]);
    expect(body.recomputation).toEqual({
      task: 'task-1',
      calibrationVersions: ['n-prep-1-b/1+cal-7'],
      catalogueVersions: ['catalogue-1'],
    });
    const judged = (await get(`n-prep-1/trend?gases=N2&from=${from}&analyser=n-prep-1-b`)).body;
    expect(judged.series.N2).toMatchObject([{ value: 1e-8 }]);
    expect(judged.recomputation).toBeUndefined();
    const table = await get(query('task-1'), { accept: 'text/csv' });
    expect(table.body.split('\r\n')[0]).toBe(
      [
        'at',
        ...['', ' min', ' max', ' below'].map(
          (which) => `"N2${which} (Pa), recomputed by task-1 with n-prep-1-b/1+cal-7"`,
        ),
      ].join(),
    );
    expect(table.headers['content-disposition']).toContain('trend-task-1.csv');
  });

  test('that is not there, is another kind of task or of another chamber is 404', async () => {
    await putTask('other-chamber', { chamber: 's-load-1' });
    await putTask('other-kind', { kind: 'change' });
    for (const task of ['ghost', 'other-chamber', 'other-kind'])
      expect((await get(query(task))).status, task).toBe(404);
  });

  test('that is not done, or failed, is no half series', async () => {
    await putTask('waits', { state: 'waiting' });
    await putTask('broke', { state: 'failed', problem: 'The catalogue changed.' });
    expect(await get(query('waits'))).toMatchObject({
      status: 409,
      body: { detail: expect.stringMatching(/still being/) },
    });
    expect(await get(query('broke'))).toMatchObject({
      status: 409,
      body: { detail: expect.stringMatching(/catalogue changed/) },
    });
    await putTask('mine');
    expect((await get(query('mine', '&analyser=n-prep-1-a'))).status).toBe(422);
  });
});

describe('a trend', () => {
  const trend = async (query: string) => (await get(`n-prep-1/trend?${query}`)).body;

  test('gives each scan its own point where there is room', async () => {
    const readings = [30, 20, 10].map((m, i) => ({ at: minutesAgo(m), gases: { N2: (i + 1) * 1e-8 } }));
    await putReadings(world, readings);
    const body = await trend('gases=N2&unit=mbar');
    expect(body).toMatchObject({ unit: 'mbar', step: 108, analyser: 'n-prep-1-a' });
    expect(body.series.N2).toEqual(
      [1e-10, 2e-10, 3e-10].map((value, i) => ({ at: readings[i]!.at.toISOString(), value, min: value, max: value })),
    );
  });

  test('says below what a gas was that was not detected, and never zero', async () => {
    await putReadings(world, [
      { at: minutesAgo(20), gases: { N2: 1e-8, He: { below: 3e-11 } } },
      { at: minutesAgo(10), gases: { N2: 1e-8, He: 5e-11 } },
    ]);
    const { series } = await trend('gases=He');
    expect(series.He).toMatchObject([
      { value: null, min: null, max: null, limit: 3e-11 },
      { value: 5e-11, min: 5e-11, max: 5e-11 },
    ]);
  });

  test('knows gases by other names and orders them as asked; a gas that was not looked for has no points', async () => {
    await putReadings(world, [{ at: minutesAgo(10) }]);
    const { series } = await trend('gases=nitrogen,SF6');
    expect(Object.keys(series)).toEqual(['N2', 'SF6']);
    expect(series.SF6).toEqual([]);
    expect(await get('n-prep-1/trend?gases=N2,unobtainium')).toMatchObject({
      status: 422,
      body: { errors: [{ path: 'gases' }] },
    });
  });

  test('finds a gas wherever it stands in the list of its reading', async () => {
    await putReadings(world, [
      { at: minutesAgo(20), gases: { H2: 1, N2: 2e-8, Ar: 3 } },
      {
        at: minutesAgo(10),
        gases: { ...Object.fromEntries(Array.from({ length: 11 }, (_, i) => [`g${i}`, 1])), N2: 4e-8 },
      },
    ]);
    const { series } = await trend('gases=N2');
    expect(series.N2.map(({ value }: { value: number }) => value)).toEqual([2e-8, 4e-8]);
  });

  test('shows where no scan is, at both ends and between', async () => {
    const at = [100, 99, 98, 97, 60, 59, 58, 57].map((m) => ({ at: minutesAgo(m) }));
    await putReadings(world, at);
    const from = minutesAgo(120).toISOString();
    const { gaps } = await trend(`gases=N2&from=${from}&to=${NOW.toISOString()}`);
    expect(gaps).toEqual([
      { from, to: minutesAgo(100).toISOString() },
      { from: minutesAgo(97).toISOString(), to: minutesAgo(60).toISOString() },
      { from: minutesAgo(57).toISOString(), to: NOW.toISOString() },
    ]);
    const empty = await trend(`gases=N2&from=${minutesAgo(300).toISOString()}&to=${minutesAgo(200).toISOString()}`);
    expect(empty).toMatchObject({ series: { N2: [] }, gaps: [{ from: minutesAgo(300).toISOString() }] });
  });

  test('as a table has a row per bucket and guards nothing that is a number', async () => {
    await putReadings(world, [
      { at: minutesAgo(20), gases: { N2: 1e-8, He: { below: 3e-11 } } },
      { at: minutesAgo(10), gases: { N2: 2e-8, He: { below: 3e-11 } } },
    ]);
    const answer = await get('n-prep-1/trend?gases=N2,He&unit=Pa', { accept: 'text/csv' });
    expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(answer.body).toBe(
      [
        'at,N2 (Pa),N2 min (Pa),N2 max (Pa),N2 below (Pa),He (Pa),He min (Pa),He max (Pa),He below (Pa)',
        `${minutesAgo(20).toISOString()},1e-8,1e-8,1e-8,,,,,3e-11`,
        `${minutesAgo(10).toISOString()},2e-8,2e-8,2e-8,,,,,3e-11`,
        '',
      ].join('\r\n'),
    );
  });

  test.each([
    ['from=yesterday', 400, 'from'],
    [`from=${NOW.toISOString()}&to=${minutesAgo(1).toISOString()}`, 422, 'from'],
    ['points=0', 400, 'points'],
    ['points=5001', 400, 'points'],
    ['points=many', 400, 'points'],
    ['points=2.5', 400, 'points'],
  ])('%s: %d', async (query, status, path) => {
    expect(await get(`n-prep-1/trend?${query}`)).toMatchObject({ status, body: { errors: [{ path }] } });
  });

  test('takes an offset whose plus was not escaped', async () => {
    expect((await get('n-prep-1/trend?from=2026-03-01T00:00:00+01:00')).body.from).toBe('2026-02-28T23:00:00.000Z');
  });

  test('of another chamber’s analyser is 404', async () => {
    expect((await get('n-prep-1/trend?analyser=s-load-1-a')).status).toBe(404);
  });

  test('has at most the asked points, in order, and none of them hides an extreme', async () => {
    const from = new Date('2026-02-01T00:00:00Z').getTime();
    const seconds = 3600;
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.integer({ min: 0, max: seconds }), { minLength: 1, maxLength: 60 }),
        fc.array(fc.option(fc.integer({ min: -120, max: -20 }), { freq: 4 }), { minLength: 60, maxLength: 60 }),
        fc.integer({ min: 1, max: 30 }),
        async (times, exponents, points) => {
          await world.db.sql`truncate readings, latest`;
          const readings: TestReading[] = times.map((second, i) => {
            const exponent = exponents[i];
            return {
              at: new Date(from + second * 1000),
              gases: { N2: exponent == null ? { below: 1e-12 } : 10 ** (exponent / 10) },
            };
          });
          await putReadings(world, readings);
          const span = `from=${new Date(from).toISOString()}&to=${new Date(from + seconds * 1000).toISOString()}`;
          const { series, step } = await trend(`gases=N2&${span}&points=${points}`);
          const found: { at: string; value: number | null; min: number | null; max: number | null; limit?: number }[] =
            series.N2;
          expect(found.length).toBeLessThanOrEqual(points);
          expect(found.map(({ at }) => at)).toEqual([...new Set(found.map(({ at }) => at))].sort());
          expect(step).toBeCloseTo(seconds / points, 9);
          const bucketOf = (at: Date) => Math.min(points - 1, Math.floor((at.getTime() - from) / 1000 / step));
          for (const point of found) {
            const bucket = bucketOf(new Date(point.at));
            const inside = readings.filter((reading) => bucketOf(reading.at) === bucket);
            const values = inside.flatMap(({ gases }) =>
              typeof gases?.N2 === 'number' ? [Math.fround(gases.N2)] : [],
            );
            const near = (a: number | null, b: number) => expect((a ?? Number.NaN) / b).toBeCloseTo(1, 5);
            if (values.length === 0) {
              expect(point).toMatchObject({ value: null, min: null, max: null });
              near(point.limit ?? null, 1e-12);
            } else {
              near(point.min, Math.min(...values));
              near(point.max, Math.max(...values));
              expect(point.value).toBeGreaterThanOrEqual(point.min as number);
              expect(point.value).toBeLessThanOrEqual(point.max as number);
            }
          }
          expect(new Set(readings.map(({ at }) => bucketOf(at))).size).toBe(found.length);
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe('chambers', () => {
  const list = async (query = '') => (await world.ask('GET', `/api/v1/chambers${query}`)).body.chambers;

  test('stand in the order of the document, or with what needs a person first', async () => {
    await putReadings(world, [
      { at: minutesAgo(1) },
      { at: minutesAgo(1), chamber: 's-load-1', analyser: 's-load-1-a', gases: { N2: 1e-7, O2: 1e-8 } },
    ]);
    await putAlert(world, { id: 'a1', chamber: 's-load-1', gases: ['O2'] });
    expect((await list()).map(({ id }: { id: string }) => id)).toEqual(['n-prep-1', 's-load-1']);
    const sorted = await list('?sort=attention&unit=mbar');
    expect(sorted.map(({ id }: { id: string }) => id)).toEqual(['s-load-1', 'n-prep-1']);
    expect(sorted[0]).toMatchObject({
      name: 's-load-1',
      area: 'south',
      health: 'attention',
      state: 'base',
      lastScanAt: minutesAgo(1).toISOString(),
      silent: false,
      openAlerts: 1,
      worst: { id: 'a1', signature: 'air-leak', priority: 'high', summary: 'Air is leaking in and growing.' },
      say: 'Air is leaking in and growing.',
      unit: 'mbar',
      gases: { N2: { value: 1e-9, detected: true } },
    });
    expect(sorted[0].strip).toMatchObject([
      { gas: 'N2', alert: null, atLastRound: null },
      { gas: 'O2', alert: 'high' },
    ]);
    expect(sorted[1]).toMatchObject({ health: 'rest', worst: null, openAlerts: 0 });
  });

  test('without a scan, or without a fresh one, are never at rest', async () => {
    await putReadings(world, [{ at: minutesAgo(5) }]);
    expect(await list()).toMatchObject([
      { id: 'n-prep-1', health: 'stale', silent: false },
      { id: 's-load-1', health: 'blind', lastScanAt: null, gases: {} },
    ]);
    world.at(new Date(NOW.getTime() + 3_600_000));
    expect((await list())[0]).toMatchObject({ health: 'blind', silent: true });
    world.at(NOW);
  });

  test('a shelved alert asks for nobody, and is said', async () => {
    await putReadings(world, [{ at: minutesAgo(1) }]);
    await putAlert(world, { id: 'a2', state: 'shelved' });
    expect((await list())[0]).toMatchObject({
      health: 'changed',
      worst: null,
      openAlerts: 1,
      say: expect.stringContaining('shelved'),
    });
  });

  test('the worst alert is the highest, then the one that nobody has seen', async () => {
    await putReadings(world, [{ at: minutesAgo(1) }]);
    await putAlert(world, { id: 'low', signature: 'water', priority: 'low' });
    await putAlert(world, { id: 'seen', signature: 'helium', priority: 'high', state: 'acknowledged' });
    await putAlert(world, { id: 'unseen', signature: 'air-leak', priority: 'high' });
    expect((await list())[0]).toMatchObject({ openAlerts: 3, worst: { id: 'unseen' } });
  });

  test('of one area', async () => {
    expect((await list('?area=south')).map(({ id }: { id: string }) => id)).toEqual(['s-load-1']);
    expect((await world.ask('GET', '/api/v1/chambers?sort=name')).status).toBe(400);
  });

  test('in detail tell their analysers and their document', async () => {
    await putReadings(world, [{ at: minutesAgo(1) }]);
    const { body } = await get('n-prep-1');
    expect(body).toMatchObject({
      id: 'n-prep-1',
      volumeLitres: 42,
      pumpingSpeedLitresPerSecond: { N2: 260, H2: 200, Ar: 250 },
      retired: false,
      document: FLEET.chambers[0],
      analysersDetail: [
        { id: 'n-prep-1-a', principle: 'quadrupole', massRange: [1, 100], version: 1, kappa: 1, floor: 1e-11 },
        { id: 'n-prep-1-b', principle: 'ion trap', lastScanAt: null, floor: null, notes: [] },
      ],
    });
    expect((await get('nowhere')).status).toBe(404);
  });

  test('tell their states, from the one that held when the span began', async () => {
    const put = (minutes: number, state: string) =>
      world.db.sql`insert into chamber_states values ('n-prep-1', 'n-prep-1-a', ${minutesAgo(minutes)}, ${state})`;
    await put(300, 'vented');
    await put(200, 'pump-down');
    await put(100, 'base');
    const { body } = await get(`n-prep-1/states?from=${minutesAgo(150).toISOString()}&to=${NOW.toISOString()}`);
    expect(body.spans).toEqual([
      { from: minutesAgo(200).toISOString(), to: minutesAgo(100).toISOString(), state: 'pump-down' },
      { from: minutesAgo(100).toISOString(), to: null, state: 'base' },
    ]);
  });

  test('tell what is usual', async () => {
    const gases = { N2: { medianLog10Pa: -7, sigmaDecades: 0.1, halfWidthDecades: 0.3, scans: 60, frozen: false } };
    await world.db.sql`
      insert into baselines values ('n-prep-1', 'n-prep-1-a', 'base', ${world.db.sql.json(gases)}, '{}', ${minutesAgo(90)}, ${NOW})`;
    const { body } = await get('n-prep-1/baselines?unit=mbar');
    expect(body).toMatchObject({ unit: 'mbar', baselines: [{ analyser: 'n-prep-1-a', state: 'base' }] });
    const usual = body.baselines[0].gases.N2;
    expect(usual.median).toBeCloseTo(1e-9, 14);
    expect(usual.high / usual.median).toBeCloseTo(10 ** 0.3, 4);
    expect(usual.low / usual.median).toBeCloseTo(10 ** -0.3, 4);
    expect(usual).toMatchObject({ scans: 60, frozen: false });
  });
});

describe('the spectrum', () => {
  test('is of the newest scan, in the asked unit', async () => {
    const at = minutesAgo(1);
    await putReadings(world, [{ at, scanId: 'newest' }]);
    const spectrum = {
      scanId: 'newest',
      seconds: 20,
      averages: 2,
      detector: 'faraday',
      peaks: [
        { mass: 28, value: 1e-7, sigma: 1e-10, baseline: null, parts: [{ gas: 'N2', share: 0.9 }], unexplained: 0.1 },
      ],
    };
    await world.db.sql`update latest set spectrum = ${world.db.sql.json(spectrum)}`;
    expect((await get(`n-prep-1/spectrum?unit=mbar&at=${at.toISOString()}`)).body).toEqual({
      ...spectrum,
      at: at.toISOString(),
      analyser: 'n-prep-1-a',
      unit: 'mbar',
      floor: 1e-13,
      peaks: [{ ...spectrum.peaks[0], value: 1e-9, sigma: 1e-12 }],
    });
    expect(await get(`n-prep-1/spectrum?at=${minutesAgo(999_999).toISOString()}`)).toMatchObject({ status: 404 });
  });

  test('is 404 with a reason where the scan gave none', async () => {
    await putReadings(world, [{ at: minutesAgo(1) }]);
    expect(await get('n-prep-1/spectrum')).toMatchObject({
      status: 404,
      body: { detail: expect.stringMatching(/no peaks/) },
    });
  });
});

describe('limits', () => {
  const put = (limits: unknown) => world.ask('PUT', '/api/v1/chambers/n-prep-1/limits', { body: { limits } });
  test('are replaced as a whole, kept by catalogue id, and audited', async () => {
    const limits = [
      { gas: 'water', limitPa: 1e-6, priority: 'medium', note: 'recipe 7' },
      { gas: 'N2', limitPa: 1e-7, priority: 'high' },
    ];
    const { status, body } = await put(limits);
    expect(status).toBe(200);
    expect(body.limits).toEqual([
      { gas: 'H2O', limitPa: 1e-6, priority: 'medium', note: 'recipe 7' },
      { gas: 'N2', limitPa: 1e-7, priority: 'high' },
    ]);
    expect((await get('n-prep-1/limits')).body).toEqual(body);
    expect((await put([])).body).toEqual({ limits: [] });
    expect(await world.db.sql`select what from audit where what = 'limits set'`).toHaveLength(2);
  });
  test.each([
    ['unknown gas', [{ gas: 'unobtainium', limitPa: 1, priority: 'low' }], 422, '/limits/0/gas'],
    [
      'the same gas twice',
      [
        { gas: 'N2', limitPa: 1, priority: 'low' },
        { gas: 'nitrogen', limitPa: 1, priority: 'low' },
      ],
      422,
      '/limits/1/gas',
    ],
    ['0', [{ gas: 'N2', limitPa: 0, priority: 'low' }], 400, '/limits/0/limitPa'],
  ])('%s', async (_name, limits, status, path) => {
    expect(await put(limits)).toMatchObject({ status, body: { errors: [{ path }] } });
  });
});
