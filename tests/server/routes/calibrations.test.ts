import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { CalibrationEntry } from '../../../shared/contract/calibration.ts';
import { type CalibrationRow, insertCalibration } from '../../../shared/db/calibrations.ts';
import { FLEET, NOW, openWorld, type World } from '../world.ts';

let world: World;
let engineer: string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  engineer = await world.tokenOf('engineer');
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate calibrations`;
  await world.db.sql`delete from audit where what like 'calibration%'`;
  world.at(NOW);
});

const A = 'n-prep-1-a';
const hours = (count: number) => new Date(NOW.getTime() + count * 3_600_000).toISOString();
const entry = (changed: object = {}) => ({
  kind: 'sensitivity',
  value: 6.4e-7,
  relativeUncertainty: 0.05,
  source: 'certificate',
  validFrom: hours(-10),
  note: 'Certificate 118 of March',
  ...changed,
});
const post = (body: unknown, path = '', token = engineer, analyser = A) =>
  world.ask('POST', `/api/v1/analysers/${analyser}/calibrations${path}`, { body, token });
const entries = async (): Promise<CalibrationEntry[]> =>
  (await world.ask('GET', `/api/v1/analysers/${A}/calibrations`)).body.entries;
const audits = () => world.db.sql`select by, what, detail from audit where what like 'calibration%' order by id`;

const proposal = (changed: Partial<CalibrationRow> = {}): Promise<void> =>
  world.db.transaction((tx) =>
    insertCalibration(tx, {
      chamber: 'n-prep-1',
      analyser: A,
      id: 'proposed-1',
      kind: 'pattern',
      gas: 'CO2',
      value: {
        gas: 'CO2',
        peaks: { 44: 100, 28: 14, 16: 11 },
        fragmentUncertainty: 0.03,
        responseAtLargest: 1.2,
        responseUncertainty: 0.15,
      },
      source: 'pure gas',
      note: 'Bottle on V3',
      state: 'proposed',
      validFrom: null,
      validTo: null,
      setAt: new Date(hours(-3)),
      setBy: 'ada',
      decidedAt: null,
      decidedBy: null,
      decisionNote: null,
      scansFrom: new Date(hours(-5)),
      scansTo: new Date(hours(-4)),
      scanCount: 40,
      ...changed,
    }),
  );

describe('entering a number', () => {
  test('puts it in force with who, when and from what, and leaves a line in the audit', async () => {
    const { status, body } = await post(entry());
    expect(status).toBe(201);
    expect(body).toEqual({
      id: expect.stringMatching(/^cal-[0-9a-f]+$/),
      analyser: A,
      kind: 'sensitivity',
      gas: null,
      value: { value: 6.4e-7, relativeUncertainty: 0.05 },
      source: 'certificate',
      note: 'Certificate 118 of March',
      state: 'in-force',
      validFrom: hours(-10),
      validTo: null,
      setAt: NOW.toISOString(),
      setBy: 'engineer token',
      decidedAt: NOW.toISOString(),
      decidedBy: 'engineer token',
      decisionNote: null,
      scans: null,
    });
    expect(await entries()).toEqual([body]);
    expect(await audits()).toMatchObject([
      { by: 'engineer token', what: 'calibration entered', detail: { analyser: A, id: body.id, kind: 'sensitivity' } },
    ]);
  });

  test('shows in what is in force, and the newer one takes over at its time', async () => {
    const first = (await post(entry())).body.id;
    const second = (await post(entry({ value: 5e-7, validFrom: hours(-2) }))).body.id;
    await post(entry({ kind: 'gain', value: 800, validFrom: hours(-1), validTo: hours(5), source: 'detector pair' }));
    const inForce = async () => (await world.ask('GET', `/api/v1/analysers/${A}/measurement`)).body.calibration;
    const now = await inForce();
    expect(now.sensitivityAmperesPerPascal).toBe(5e-7);
    expect(now.inForce.map(({ id, kind }: CalibrationEntry) => [id === second || kind, kind])).toEqual(
      expect.arrayContaining([
        [true, 'sensitivity'],
        ['gain', 'gain'],
      ]),
    );
    expect(now.version).toContain(`${A}/1+`);
    expect(now.version).toContain(second);
    expect(now.version).not.toContain(first);
    world.at(new Date(hours(6)));
    expect((await inForce()).inForce).toHaveLength(1);
  });

  test('of a transmission may be negative, of any time from 2000 to a day ahead', async () => {
    expect((await post(entry({ kind: 'transmission', value: -1.2 }))).status).toBe(201);
    expect((await post(entry({ validFrom: '2000-01-01T00:00:00Z' }))).status).toBe(201);
    expect((await post(entry({ validFrom: hours(23) }))).status).toBe(201);
    expect((await post(entry({ validFrom: '2026-03-02T13:00:00+02:00' }))).body.validFrom).toBe(
      '2026-03-02T11:00:00.000Z',
    );
  });

  test.each([
    ['a sensitivity of zero', { value: 0 }, 422, '/value', /greater than 0/],
    ['a negative gain', { kind: 'gain', value: -2 }, 422, '/value', /greater than 0/],
    ['a sensitivity that no analyser has', { value: 7 }, 422, '/value', /at most 1/],
    ['a transmission beyond five', { kind: 'transmission', value: 5.1 }, 422, '/value', /-5 and 5/],
    ['a time before 2000', { validFrom: '1999-12-31T23:59:59Z' }, 422, '/validFrom', /before the year 2000/],
    ['a time more than a day ahead', { validFrom: hours(25) }, 422, '/validFrom', /more than a day ahead/],
    ['an end before its beginning', { validTo: hours(-11) }, 422, '/validTo', /after validFrom/],
    ['a time that is none', { validFrom: 'yesterday' }, 400, '/validFrom', /RFC 3339/],
    ['an empty note', { note: '  ' }, 422, '/note', /not be empty/],
    ['a pattern by hand', { kind: 'pattern' }, 400, '/kind', /one of sensitivity, gain/],
    ['a text for a number', { value: '6e-7' }, 400, '/value', /finite number/],
    ['an uncertainty above one', { relativeUncertainty: 1.5 }, 400, '/relativeUncertainty', /at most 1/],
    ['a field that is not known', { colour: 'red' }, 400, '/colour', /not a field/],
  ])('refuses %s', async (_what, changed, status, path, problem) => {
    const answer = await post(entry(changed));
    expect(answer.status).toBe(status);
    expect(answer.body.errors[0]).toEqual({ path, problem: expect.stringMatching(problem) });
    expect(await entries()).toEqual([]);
  });

  test('an ion trap has no sensitivity of its own', async () => {
    const answer = await post(entry(), '', engineer, 'n-prep-1-b');
    expect(answer).toMatchObject({ status: 422, body: { errors: [{ path: '/kind' }] } });
    expect((await post(entry({ kind: 'gauge-factor', value: 0.8 }), '', engineer, 'n-prep-1-b')).status).toBe(201);
  });

  test('is for engineers; a gateway may do nothing here', async () => {
    for (const role of ['viewer', 'operator', 'gateway'] as const)
      expect((await post(entry(), '', await world.tokenOf(role))).status, role).toBe(403);
    const gateway = await world.tokenOf('gateway');
    for (const path of ['calibrations', 'tasks', 'tasks/x', 'scans', 'plan?gas=N2&pressure=1'])
      expect((await world.ask('GET', `/api/v1/analysers/${A}/${path}`, { token: gateway })).status, path).toBe(403);
    expect(await audits()).toEqual([]);
  });
});

describe('a proposal', () => {
  test('is put in force by an engineer who looked at it', async () => {
    await proposal();
    const [before] = await entries();
    expect(before).toMatchObject({
      state: 'proposed',
      validFrom: null,
      scans: { from: hours(-5), to: hours(-4), count: 40 },
    });
    const { status, body } = await post({ validFrom: hours(-4), note: 'Fits the bottle' }, '/proposed-1/enforce');
    expect(status).toBe(200);
    expect(body).toMatchObject({
      state: 'in-force',
      gas: 'CO2',
      value: { peaks: { 44: 100 }, responseAtLargest: 1.2 },
      validFrom: hours(-4),
      validTo: null,
      setBy: 'ada',
      decidedBy: 'engineer token',
      decisionNote: 'Fits the bottle',
    });
    expect(await audits()).toMatchObject([
      {
        what: 'calibration put in force',
        detail: { id: 'proposed-1', kind: 'pattern', gas: 'CO2', note: 'Fits the bottle' },
      },
    ]);
  });

  test('may be withdrawn at once, or after it was in force; then it stays as it is', async () => {
    await proposal();
    await post({ validFrom: hours(-4), note: 'yes' }, '/proposed-1/enforce');
    const again = await post({ validFrom: hours(-4), note: 'yes' }, '/proposed-1/enforce');
    expect(again.status).toBe(409);
    expect(again.body.detail).toBe(`This calibration is in force already, by engineer token on ${NOW.toISOString()}.`);
    const { body } = await post({ note: 'The bottle was mixed' }, '/proposed-1/withdraw');
    expect(body).toMatchObject({ state: 'withdrawn', validFrom: hours(-4), decisionNote: 'The bottle was mixed' });
    for (const path of ['/proposed-1/withdraw', '/proposed-1/enforce']) {
      const late = await post({ note: 'x', ...(path.endsWith('enforce') ? { validFrom: hours(0) } : {}) }, path);
      expect(late.status).toBe(409);
      expect(late.body.detail).toMatch(/was withdrawn, by engineer token/);
    }
    expect((await audits()).map(({ what }) => what)).toEqual(['calibration put in force', 'calibration withdrawn']);
  });

  test('of another analyser, or that nobody made, is 404; a time far ahead is refused before anything happens', async () => {
    await proposal();
    const elsewhere = await post({ validFrom: hours(0), note: 'x' }, '/proposed-1/enforce', engineer, 'n-prep-1-b');
    expect(elsewhere.status).toBe(404);
    expect((await post({ note: 'x' }, '/ghost/withdraw')).status).toBe(404);
    expect((await post({ validFrom: hours(48), note: 'x' }, '/proposed-1/enforce')).status).toBe(422);
    expect((await post({ validFrom: hours(0), note: ' ' }, '/proposed-1/enforce')).status).toBe(422);
    expect((await post({ validFrom: hours(0) }, '/proposed-1/enforce')).status).toBe(400);
    expect((await entries())[0]).toMatchObject({ state: 'proposed' });
    const viewer = await world.tokenOf('viewer');
    for (const path of ['/proposed-1/enforce', '/proposed-1/withdraw'])
      expect((await post({ validFrom: hours(0), note: 'x' }, path, viewer)).status).toBe(403);
  });

  test('shows a background with its heights', async () => {
    const value = {
      peaks: { 28: { heightPa: 3e-10, sigmaPa: 2e-11 }, 2: { heightPa: -1e-12, sigmaPa: 1e-12 } },
      unsteadiness: 2.5,
    };
    await proposal({ kind: 'background', gas: null, source: 'closed valve', value });
    expect((await entries())[0]!.value).toEqual(value);
  });
});

test('the list comes with what to mind when gas is let in or a valve is closed', async () => {
  const { notes } = (await world.ask('GET', `/api/v1/analysers/${A}/calibrations`)).body;
  const text = notes.map((note: { text: string }) => note.text).join(' ');
  for (const word of [
    /over-pressure/,
    /toxic/,
    /pyrophoric/,
    /site’s own procedure/,
    /licensed/,
    /Never bypass/,
    /high voltage/,
    /hot/,
  ])
    expect(text).toMatch(word);
});
