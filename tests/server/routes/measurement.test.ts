/**
 * Figures are put where the workers put them. Outside: 1 mbar is 100 Pa (SI Brochure), 1 Torr 101325/760 Pa (NIST SP
 * 811).
 */
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { InstrumentView } from '../../../shared/analysis/types.ts';
import type { AnalyserMeasurement, MeasurementLine } from '../../../shared/contract/measurement.ts';
import { FLEET, NOW, openWorld, putMeasured, putReadings, type TestMeasured, type World } from '../world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate readings, latest, calibrations, settings`;
  world.at(NOW);
});

const A = 'n-prep-1-a';
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const daysAgo = (days: number) => minutesAgo(days * 1440);
const get = (path: string, token?: string) => world.ask('GET', `/api/v1/${path}`, token ? { token } : {});
const detail = async (query = ''): Promise<AnalyserMeasurement> =>
  (await get(`analysers/${A}/measurement${query}`)).body;
const list = async (query = ''): Promise<MeasurementLine[]> => (await get(`measurement${query}`)).body.analysers;
const lineOf = async (analyser = A) => (await list()).find((one) => one.analyser === analyser)!;

const kappa = (changed: Partial<NonNullable<InstrumentView['kappa']>> = {}) => ({
  usual: 1,
  spread: 0.02,
  scans: 400,
  sinceMs: daysAgo(2).getTime(),
  atMs: NOW.getTime(),
  steady: true,
  ...changed,
});

const measured = async (changed: TestMeasured = {}, reading: object = {}) => {
  await world.db.sql`delete from readings where at >= ${minutesAgo(1)}`;
  await putReadings(world, [{ at: minutesAgo(1), gaugePa: 1e-6, ...reading }]);
  await putMeasured(world, A, changed);
};

describe('the list', () => {
  test('has every analyser that is watched, in the order of the fleet, also one that has sent nothing', async () => {
    await measured();
    const lines = await list();
    expect(lines.map(({ analyser }) => analyser)).toEqual([A, 'n-prep-1-b', 's-load-1-a']);
    expect(lines[0]).toMatchObject({
      chamber: 'n-prep-1',
      chamberName: 'Preparation 1',
      area: 'north',
      principle: 'quadrupole',
      at: minutesAgo(1).toISOString(),
      detector: 'faraday',
      responseSeconds: 20,
      floor: 1e-11,
      decades: 5,
      remark: null,
    });
    expect(lines[1]).toMatchObject({
      principle: 'ion trap',
      at: null,
      floor: null,
      kappa: null,
      remark: 'No scan of it has been analysed yet.',
    });
    expect((await list('?area=south')).map(({ analyser }) => analyser)).toEqual(['s-load-1-a']);
    expect((await get('measurement?area=south&colour=red')).status).toBe(400);
  });

  test('comes in the asked unit', async () => {
    await measured();
    expect((await list('?unit=mbar'))[0]!.floor).toBeCloseTo(1e-13, 20);
    expect((await list('?unit=Torr'))[0]!.floor).toBeCloseTo((1e-11 * 760) / 101_325, 17);
  });

  test('a retired analyser is not in it, and can be asked for', async () => {
    await measured();
    const analysers = FLEET.analysers.filter(({ id }) => id !== A);
    await world.ask('PUT', '/api/v1/fleet', { body: { ...FLEET, analysers } });
    expect((await list()).map(({ analyser }) => analyser)).not.toContain(A);
    expect((await detail()).analyser).toBe(A);
    await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  });
});

describe('the detection multiple', () => {
  const settings = (body: unknown, token?: string) =>
    world.ask('PUT', '/api/v1/measurement/settings', { body, ...(token ? { token } : {}) });

  test('is three until an engineer sets another; floors and decades follow, the fixed interface stays at three', async () => {
    await measured({ measurement: { noisePerGasPa: { N2: 2e-12 } } });
    expect((await get('measurement/settings')).body).toEqual({ detectionMultiple: 3 });
    const engineer = await world.tokenOf('engineer');
    expect((await settings({ detectionMultiple: 6 }, engineer)).body).toEqual({ detectionMultiple: 6 });
    const line = await lineOf();
    expect(line.floor).toBeCloseTo(2e-11, 20);
    expect(line.decades).toBeCloseTo(5 - Math.log10(2), 5);
    expect((await detail()).floors).toMatchObject([{ gas: 'N2', floor: 1.2e-11, limit: null, detected: true }]);
    expect((await get('chambers/n-prep-1/readings/latest')).body.floor).toBe(1e-11);
    const [line2] = await world.db.sql`select by, detail from audit where what = 'detection multiple set'`;
    expect(line2).toMatchObject({ by: 'engineer token', detail: { detectionMultiple: 6 } });
  });

  test.each([[0.5], [11], ['3'], [null]])('%s is refused', async (detectionMultiple) => {
    const answer = await settings({ detectionMultiple });
    expect(answer).toMatchObject({ status: 400, body: { errors: [{ path: '/detectionMultiple' }] } });
  });

  test('an operator may not set it', async () => {
    expect((await settings({ detectionMultiple: 4 }, await world.tokenOf('operator'))).status).toBe(403);
  });
});

describe('the remark', () => {
  const remark = async (changed: TestMeasured, reading: object = {}) => {
    await measured(changed, reading);
    return (await lineOf()).remark;
  };
  const scale = (offsetU: number) => ({ measurement: { massScale: { offsetU, slope: 0, pivot: 28 } } });
  const gain = (value: number, uncertainty = 0.05) => ({
    instrument: { gain: { value, uncertainty, atMs: minutesAgo(40).getTime(), pairs: 3 } },
  });

  test('tells how far the gain has left its record, and when that was measured', async () => {
    expect(await remark(gain(480))).toBe(
      "The multiplier's gain fell to 48 % of the one on record, measured 40 min ago.",
    );
    expect(await remark(gain(900))).toBeNull();
    // Half, but it may as well be the record: ln 2 = 0.69 is less than 1.96 · 0.5.
    expect(await remark(gain(500, 0.5))).toBeNull();
  });

  test('tells of a mass scale that is off', async () => {
    expect(await remark(scale(0.18))).toBe('Peaks stand 0.18 u above their masses.');
    expect(await remark(scale(-0.2))).toBe('Peaks stand 0.20 u below their masses.');
    expect(await remark(scale(0.1))).toBeNull();
  });

  test('tells where kappa stands, or that it has left its place', async () => {
    expect(await remark({ instrument: { kappa: kappa({ usual: 0.6 }) } }, { kappa: 0.6 })).toMatch(
      /^Kappa stands at 0.6/,
    );
    expect(await remark({ instrument: { kappa: kappa() } }, { kappa: 0.6 })).toMatch(
      /^Kappa is 0.6 where it has stood at 1/,
    );
    expect(await remark({ instrument: { kappa: kappa({ usual: 0.6, scans: 5 }) } }, { kappa: 0.6 })).toBeNull();
  });

  test('tells of a floor ten times what it was on the days before, with the same detector', async () => {
    const days = (detector: string) =>
      [1, 2, 3, 4].map((day) => ({ at: minutesAgo(1 + day * 1440), floorPa: 1e-12, detector }));
    await putReadings(world, days('multiplier'));
    expect(await remark({})).toBeNull();
    await putReadings(
      world,
      days('faraday').map((one) => ({ ...one, scanId: `f${one.at.getTime()}` })),
    );
    expect(await remark({}, { floorPa: 1.3e-11 })).toBe('The floor is 13 times what it was on the days before.');
  });

  test('tells of a missing gauge, a poor fit, unexplained signal, own gas, wide peaks and drop-outs', async () => {
    const text = 'No total pressure came with this scan.';
    expect(await remark({ notes: [{ code: 'no-gauge', text }] })).toBe(text);
    expect(await remark({ measurement: { chiSquarePerDof: 7.9 } })).toMatch(/fit the spectrum badly.* 7.9\.$/);
    expect(await remark({ unexplained: 0.34 })).toBe('No gas explains 34 % of the signal.');
    expect(await remark({ measurement: { ownGas: [{ gas: 'CO', share: 0.8 }] } })).toBe(
      'Analyser limited: 80 % of its carbon monoxide is its own, by the background on record.',
    );
    const widthU = { half: 1.3, tenth: 2, twentieth: 2.3 };
    expect(await remark({ measurement: { widthU } })).toMatch(/^Peaks are 1.30 u wide/);
    const leftOut = [
      { mass: 28, why: 'drop-out' },
      { mass: 32, why: 'drop-out' },
    ] as const;
    expect(await remark({ measurement: { leftOut } })).toBe(
      'The signal dropped out at m/z 28, 32 and was not used there.',
    );
    expect(await remark({ measurement: { leftOut: [...leftOut, { mass: 18, why: 'cut off' }], widthU } })).toBe(
      'm/z 18 gives more than the detector can show and was not used.',
    );
  });

  test('tells of an old calibration, and says the worst first', async () => {
    await world.db.sql`
      insert into calibrations (chamber, analyser, id, kind, value, source, note, state, valid_from, set_at, set_by)
      values ('n-prep-1', ${A}, 'old', 'sensitivity', '{"value": 7e-7, "relativeUncertainty": null}', 'certificate', 'x',
        'in-force', ${daysAgo(400)}, ${daysAgo(400)}, 'someone')`;
    expect(await remark({})).toBe('Its newest calibration is 400 days old.');
    expect((await lineOf()).calibrationAgeDays).toBeCloseTo(400, 3);
    expect(await remark({ ...scale(0.2), ...gain(400) })).toMatch(/^The multiplier's gain fell/);
  });

  test('tells of silence, and of a scan that gave no answer', async () => {
    await putReadings(world, [{ at: minutesAgo(300) }]);
    expect((await lineOf()).remark).toBe('No scan has come for 5 h: these figures are as old.');
    await measured({ notes: [{ code: 'no-signal', text: 'Nothing but noise.' }] });
    await world.db.sql`update latest set estimates = null, detected = null`;
    expect((await lineOf()).remark).toBe('Nothing but noise.');
  });
});

describe('one analyser', () => {
  test('is told in full', async () => {
    await measured(
      {
        measurement: {
          massScale: { offsetU: 0.04, slope: 0.0012, pivot: 28 },
          widthU: { half: 0.8, tenth: 1.1, twentieth: 1.2 },
          gain: { value: 900, uncertainty: 0.1, from: 'pair', atMs: minutesAgo(60).getTime() },
          noisePerGasPa: { N2: 1e-12, He: 5e-12 },
          foot: { removedPa: 1e-9, share: 0.02 },
          desorbed: [{ ion: 'F+', mass: 19, heightPa: 3e-10, share: 0.9 }],
          ownGas: [{ gas: 'CO', share: 0.6 }],
          leftOut: [{ mass: 1, why: 'cut off' }],
          groups: [{ gases: ['CO', 'N2'], sumPa: 2e-8, lowPa: 1.5e-8, highPa: 2.6e-8, correlation: -0.99 }],
          candidates: [{ mass: 69, share: 0.01, gases: ['perfluoropolyether'] }],
        },
        instrument: {
          massScale: { offsetU: 0.04, usualOffsetU: 0.01, slope: 0.0012, atMs: minutesAgo(1).getTime() },
          noise: { sigmaPa: 2e-12, scans: 50 },
          gain: { value: 900, uncertainty: 0.1, atMs: minutesAgo(60).getTime(), pairs: 4 },
          kappa: kappa({ usual: 0.95, spread: 0.1, steady: false }),
          lookAlikes: [{ gas: 'He', parent: 'H2', ratio: 0.001, scans: 900 }],
        },
        spectrum: { seconds: 5, averages: 4 },
        notes: [{ code: 'noise-assumed', text: 'Assumed.' }],
      },
      { gases: { N2: 1e-8, He: { below: 3e-11 } }, kappa: 0.9 },
    );
    const body = await detail('?unit=mbar');
    expect(body).toMatchObject({
      unit: 'mbar',
      detectionMultiple: 3,
      seconds: 5,
      averages: 4,
      scanPeriodSeconds: 60,
      massRange: [1, 100],
      massScale: { offset: 0.04, slopePer100: 0.12, usualOffset: 0.01, at: minutesAgo(1).toISOString() },
      widths: { half: 0.8, tenth: 1.1, twentieth: 1.2 },
      noise: { sigma: 2e-14, from: 'earlier scans', scans: 50 },
      gain: { value: 900, at: minutesAgo(60).toISOString(), onRecord: 1000 },
      gainDetail: { value: 900, onRecord: 1000, from: 'pair', pairs: 4 },
      kappa: { now: 0.9, usual: 0.95, scans: 400, steady: false },
      floors: [
        { gas: 'N2', floor: 3e-14, limit: null, detected: true, value: 1e-10, changeSigma: 2e-12 },
        { gas: 'He', floor: 1.5e-13, limit: 3e-13, detected: false, value: null, changeSigma: 1e-13 },
      ],
      foot: { removed: 1e-11, share: 0.02 },
      desorbed: [{ ion: 'F+', mass: 19, height: 3e-12, share: 0.9 }],
      ownGas: [{ gas: 'CO', share: 0.6, analyserLimited: true }],
      leftOut: [{ mass: 1, why: 'cut off' }],
      groups: [{ gases: ['CO', 'N2'], sum: 2e-10, low: 1.5e-10, high: 2.6e-10, correlation: -0.99 }],
      candidates: [{ mass: 69, share: 0.01, gases: ['perfluoropolyether'] }],
      lookAlikes: [{ gas: 'He', parent: 'H2', ratio: 0.001, scans: 900 }],
      calibration: { version: `${A}/1`, sensitivityAmperesPerPascal: 7.5e-7, inForce: [] },
      suggestion: null,
      notes: [{ code: 'noise-assumed', text: 'Assumed.' }],
    });
    // ±1.96 standard deviations of the logarithm; one-sided 95 % for kappa.
    expect(body.gainDetail!.low).toBeCloseTo(900 * Math.exp(-0.196), 1);
    expect(body.kappa!.high).toBeCloseTo(0.95 * Math.exp(0.1645), 4);
  });

  test('before the first scan says what is on record, and null for the rest', async () => {
    expect(await detail()).toMatchObject({ at: null, seconds: null, noise: null, floors: [], notes: [] });
    const { body } = await get('analysers/s-load-1-a/measurement');
    expect(body.calibration).toEqual({ version: 's-load-1-a/1', sensitivityAmperesPerPascal: null, inForce: [] });
  });

  test('that nobody knows is 404', async () => {
    for (const path of ['measurement', 'measurement/trend', 'residuals', 'scans', 'calibrations', 'tasks', 'tasks/x'])
      expect((await get(`analysers/ghost/${path}`)).status, path).toBe(404);
  });

  test('a gateway sees none of it', async () => {
    const gateway = await world.tokenOf('gateway');
    for (const path of [
      'measurement',
      `analysers/${A}/measurement`,
      `analysers/${A}/residuals`,
      'measurement/settings',
    ])
      expect((await get(path, gateway)).status, path).toBe(403);
  });
});

describe('a factor is suggested', () => {
  const suggested = async (changed: object, reading: object = { kappa: 0.6 }) => {
    await measured({ instrument: { kappa: kappa(changed) } }, reading);
    return (await detail()).suggestion;
  };

  test('where kappa has stood away from one, with the sensitivity it would give and why to doubt it', async () => {
    const found = await suggested({ usual: 0.6, spread: 0.05 });
    // Pressures × 0.6 means sensitivity ÷ 0.6.
    expect(found!.factor).toBe(0.6);
    expect(found!.sensitivityAmperesPerPascal).toBeCloseTo(7.5e-7 / 0.6, 12);
    expect(found!.low).toBeCloseTo(0.6 * Math.exp(-0.098), 5);
    expect(found!.because).toMatch(/Either may be the one that is wrong: gauges of one kind differ by 10 to 15 %/);
  });

  test.each([
    ['it has not stood still', { usual: 0.6, steady: false }],
    ['it is within 10 % of one', { usual: 0.92, spread: 0.001 }],
    ['its own spread reaches one', { usual: 0.8, spread: 0.15 }],
  ])('but not when %s', async (_why, changed) => {
    expect(await suggested(changed)).toBeNull();
  });

  test('and not for an analyser whose sum is scaled to the gauge', async () => {
    expect(await suggested({ usual: 0.6 }, { kappa: null })).toBeNull();
    await putReadings(world, [{ at: minutesAgo(1), analyser: 'n-prep-1-b' }]);
    await putMeasured(world, 'n-prep-1-b', { instrument: { kappa: kappa({ usual: 0.6 }) } });
    expect((await get('analysers/n-prep-1-b/measurement')).body.suggestion).toBeNull();
  });
});

describe('over time', () => {
  test('a bucket keeps its least and greatest, and what was not measured is no point', async () => {
    await putReadings(
      world,
      [50, 40, 30, 20].map((minute, k) => ({
        at: minutesAgo(minute),
        floorPa: [1, 9, 2, 3][k]! * 1e-12,
        kappa: [1, 1.1, 0.9, null][k]!,
        massOffsetU: 0.01 * k,
        gain: k === 3 ? 950 : null,
        readNoisePa: 1e-13,
      })),
    );
    const span = `from=${minutesAgo(60).toISOString()}&to=${NOW.toISOString()}`;
    const { body } = await get(`analysers/${A}/measurement/trend?${span}&points=2&unit=mbar`);
    expect(body).toMatchObject({ unit: 'mbar', analyser: A, step: 1800 });
    expect(Object.keys(body.series)).toEqual(
      expect.arrayContaining(['floor', 'decades', 'kappa', 'massOffset', 'width', 'noise', 'gain', 'chiSquarePerDof']),
    );
    // 50 and 40 minutes ago lie in the first half hour, 30 and 20 in the second.
    expect(body.series.floor).toEqual([
      { at: minutesAgo(50).toISOString(), value: 5e-14, min: 1e-14, max: 9e-14 },
      { at: minutesAgo(30).toISOString(), value: 2.5e-14, min: 2e-14, max: 3e-14 },
    ]);
    expect(body.series.kappa[1]).toMatchObject({ min: 0.9, max: 0.9 });
    expect(body.series.gain).toEqual([{ at: minutesAgo(20).toISOString(), value: 950, min: 950, max: 950 }]);
    expect(body.series.width).toEqual([]);
    expect(body.series.noise[0].value).toBeCloseTo(1e-15, 22);
  });

  test('follows the detection multiple', async () => {
    await putReadings(world, [{ at: minutesAgo(10), floorPa: 3e-12 }]);
    await world.ask('PUT', '/api/v1/measurement/settings', { body: { detectionMultiple: 1 } });
    const { series } = (await get(`analysers/${A}/measurement/trend?points=1`)).body;
    expect(series.floor[0].value).toBe(1e-12);
    expect(series.decades[0].value).toBeCloseTo(5 + Math.log10(3), 5);
  });
});

describe('residuals', () => {
  const peaks = [
    {
      mass: 18,
      value: 1e-7,
      sigma: 1e-10,
      baseline: 0,
      parts: [{ gas: 'H2O', share: 0.98 }],
      unexplained: 0.02,
      residual: 2e-9,
    },
    { mass: 69, value: 3e-10, sigma: 2e-11, baseline: 0, parts: [], unexplained: 1, residual: null },
    { mass: 1, value: null, sigma: null, baseline: null, parts: [], unexplained: 0 },
  ];

  test('show height, what explains it and what is left', async () => {
    await measured({
      spectrum: { peaks },
      measurement: {
        leftOut: [{ mass: 1, why: 'cut off' }],
        candidates: [{ mass: 69, share: 1, gases: ['perfluoropolyether', 'hydrocarbon-oil'] }],
      },
    });
    const { body } = await get(`analysers/${A}/residuals?unit=Pa`);
    expect(body).toMatchObject({ analyser: A, unit: 'Pa', chiSquarePerDof: 1.1, unexplained: 0.01 });
    expect(body.peaks).toEqual([
      {
        mass: 18,
        height: 1e-7,
        explained: 9.8e-8,
        residual: 2e-9,
        sigma: 1e-10,
        parts: [{ gas: 'H2O', share: 0.98 }],
        leftOut: null,
      },
      { mass: 69, height: 3e-10, explained: null, residual: null, sigma: 2e-11, parts: [], leftOut: null },
      { mass: 1, height: null, explained: null, residual: null, sigma: null, parts: [], leftOut: 'cut off' },
    ]);
    expect(body.candidates[0].gases).toEqual(['perfluoropolyether', 'hydrocarbon-oil']);
  });

  test('of an analyser without a scan, or of a scan without peaks: 404 with the reason', async () => {
    expect((await get(`analysers/${A}/residuals`)).body.detail).toMatch(/analysed yet/);
    await putReadings(world, [{ at: minutesAgo(1) }]);
    expect((await get(`analysers/${A}/residuals`)).body.detail).toMatch(/gave no peaks/);
  });
});

test('every route is described', async () => {
  const { paths } = (await world.ask('GET', '/api/v1/openapi.json')).body;
  expect(Object.keys(paths)).toEqual(
    expect.arrayContaining([
      '/api/v1/measurement',
      '/api/v1/measurement/settings',
      '/api/v1/analysers/{id}/measurement',
      '/api/v1/analysers/{id}/measurement/trend',
      '/api/v1/analysers/{id}/residuals',
      '/api/v1/analysers/{id}/plan',
      '/api/v1/analysers/{id}/scans',
      '/api/v1/analysers/{id}/calibrations',
      '/api/v1/analysers/{id}/calibrations/{entry}/enforce',
      '/api/v1/analysers/{id}/calibrations/{entry}/withdraw',
      '/api/v1/analysers/{id}/tasks',
      '/api/v1/analysers/{id}/tasks/{task}',
      '/api/v1/chambers/{id}/comparison',
    ]),
  );
});
