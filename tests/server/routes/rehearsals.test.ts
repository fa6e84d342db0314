import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { BUILT_IN_RATIONALISATION } from '../../../shared/catalogue/rationalisation.ts';
import { aScan, FLEET, NOW, openWorld, type World } from '../world.ts';

let world: World;
let engineer: string;
let viewer: string;
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);

beforeAll(async () => {
  world = await openWorld();
  const chambers = [
    ...FLEET.chambers,
    { id: 'n-prep-2', area: 'north', kind: 'preparation' },
    { id: 'n-bare', area: 'north', kind: 'bare' },
  ];
  const analysers = [...FLEET.analysers, { id: 'n-prep-2-a', chamber: 'n-prep-2' }];
  await world.ask('PUT', '/api/v1/fleet', { body: { ...FLEET, chambers, analysers } });
  engineer = await world.tokenOf('engineer');
  viewer = await world.tokenOf('viewer');
  const scans = [aScan(), aScan({ analyser: 'n-prep-2-a' })];
  expect((await world.ask('POST', '/api/v1/scans', { body: { scans } })).body.accepted).toBe(2);
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate tasks, rehearsals, baseline_pins`;
  await world.db.sql`delete from audit where what = 'rehearsal asked for'`;
  world.nudged.length = 0;
});

const LIMITS = { kind: 'limits', limits: [{ gas: 'nitrogen', limitPa: 1e-6, priority: 'medium' }] };
const RECORD = BUILT_IN_RATIONALISATION['air-leak'].record;
const RULE = { kind: 'rationalisation', signature: 'air-leak', record: { ...RECORD, onDelayScans: 10 } };
const ask = (body: unknown, token = engineer) => world.ask('POST', '/api/v1/rehearsals', { body, token });
const pinned = (state: string, problem: string | null = null) => world.db.sql`
  insert into baseline_pins (chamber, analyser, id, version, operating_state, scans_from, scans_to, note, state, problem,
    set_at, set_by)
  values ('n-prep-1', 'n-prep-1-b', 'pin-1', 1, 'base', ${minutesAgo(60)}, ${minutesAgo(20)}, 'clean', ${state},
    ${problem}, ${NOW}, 'ann')`;

describe('asking', () => {
  test('of one chamber makes one task of its first analyser, nudges and audits', async () => {
    const { status, body } = await ask({ chamber: 'n-prep-1', days: 30, change: LIMITS });
    expect(status).toBe(202);
    expect(body).toEqual({
      id: expect.stringMatching(/^rehearsal-/),
      askedAt: NOW.toISOString(),
      askedBy: 'engineer token',
      request: {
        chamber: 'n-prep-1',
        days: 30,
        change: { ...LIMITS, limits: [{ gas: 'N2', limitPa: 1e-6, priority: 'medium' }] },
      },
      state: 'waiting',
      chambers: [
        {
          chamber: 'n-prep-1',
          state: 'waiting',
          problem: null,
          from: null,
          to: null,
          scans: 0,
          asIs: [],
          asChanged: [],
          gained: [],
          lost: [],
          moved: [],
        },
      ],
      perDay: null,
    });
    expect(world.nudged).toEqual(['n-prep-1']);
    expect(await world.db.sql`select chamber, analyser, kind, request, rehearsal from tasks`).toEqual([
      {
        chamber: 'n-prep-1',
        analyser: 'n-prep-1-a',
        kind: 'rehearsal',
        request: { kind: 'rehearsal', rehearsal: body.id },
        rehearsal: body.id,
      },
    ]);
    expect(await world.db.sql`select by from audit where what = 'rehearsal asked for'`).toEqual([
      { by: 'engineer token' },
    ]);
    expect((await world.ask('GET', `/api/v1/rehearsals/${body.id}`, { token: viewer })).body).toEqual(body);
  });

  test('of a kind makes a task per chamber that has scans, over ninety days unless told otherwise', async () => {
    const { body } = await ask({ chamberKind: 'preparation', change: RULE });
    expect(body.request.days).toBe(90);
    expect(body.chambers.map(({ chamber }: { chamber: string }) => chamber)).toEqual(['n-prep-1', 'n-prep-2']);
    expect(world.nudged).toEqual(['n-prep-1', 'n-prep-2']);
  });

  test('of a pin goes to the analyser of the pin', async () => {
    await pinned('proposed');
    const { status, body } = await ask({ change: { kind: 'baseline', pin: 'pin-1' } });
    expect(status).toBe(202);
    expect(body.request.chamber).toBe('n-prep-1');
    expect(await world.db.sql`select analyser from tasks`).toEqual([{ analyser: 'n-prep-1-b' }]);
  });

  test('is for engineers; looking is for all', async () => {
    expect((await ask({ chamber: 'n-prep-1', change: LIMITS }, viewer)).status).toBe(403);
    expect((await ask({ chamber: 'n-prep-1', change: LIMITS }, await world.tokenOf('operator'))).status).toBe(403);
    expect((await world.ask('GET', '/api/v1/rehearsals/rehearsal-0', { token: viewer })).status).toBe(404);
  });

  test('its tasks are not in the list of the analyser', async () => {
    await ask({ chamber: 'n-prep-1', change: LIMITS });
    expect((await world.ask('GET', '/api/v1/analysers/n-prep-1-a/tasks')).body.tasks).toEqual([]);
  });
});

describe('is refused, with field and reason,', () => {
  const unsaid = { ...RECORD, priority: RECORD.priority === 'low' ? 'high' : 'low', basis: 'none' };
  test.each([
    ['no chamber and no kind', { change: LIMITS }, '/chamber', /is missing/],
    ['both', { chamber: 'n-prep-1', chamberKind: 'preparation', change: LIMITS }, '/chamberKind', /not both/],
    ['an unknown chamber', { chamber: 'nowhere', change: LIMITS }, '/chamber', /no chamber nowhere/],
    ['an unknown kind', { chamberKind: 'bare', change: LIMITS }, '/chamberKind', /no chamber of the kind bare/],
    ['a chamber without scans', { chamber: 's-load-1', change: LIMITS }, '/chamber', /no scans of s-load-1/],
    [
      'an unknown gas',
      { chamber: 'n-prep-1', change: { ...LIMITS, limits: [{ gas: 'unobtainium', limitPa: 1, priority: 'low' }] } },
      '/change/limits/0/gas',
      /not in the catalogue/,
    ],
    [
      'a gas twice',
      {
        chamber: 'n-prep-1',
        change: { ...LIMITS, limits: [...LIMITS.limits, { gas: 'N2', limitPa: 1, priority: 'low' }] },
      },
      '/change/limits/1/gas',
      /limit already/,
    ],
    [
      'a record that could not be saved',
      { chamber: 'n-prep-1', change: { ...RULE, record: unsaid } },
      '/change/record/priority',
      /basis must say why/,
    ],
    ['a pin that is not there', { change: { kind: 'baseline', pin: 'pin-9' } }, '/change/pin', /no pinned baseline/],
  ])('%s', async (_what, body, path, problem) => {
    const answer = await ask(body);
    expect(answer.status).toBe(422);
    expect(answer.body.errors[0]).toMatchObject({ path, problem: expect.stringMatching(problem) });
    expect(await world.db.sql`select 1 from rehearsals`).toEqual([]);
  });

  test.each([
    ['waiting', null, /being worked out/],
    ['failed', 'The period is not steady.', /not steady/],
    ['in-force', null, /only a proposed one/],
    ['withdrawn', null, /only a proposed one/],
  ])('a pin that is %s', async (state, why, problem) => {
    await pinned(state, why);
    const { status, body } = await ask({ change: { kind: 'baseline', pin: 'pin-1' } });
    expect(status).toBe(422);
    expect(body.errors[0].problem).toMatch(problem);
  });

  test('a pin with another chamber or with a kind', async () => {
    await pinned('proposed');
    const change = { kind: 'baseline', pin: 'pin-1' };
    expect((await ask({ chamber: 'n-prep-2', change })).status).toBe(422);
    expect((await ask({ chamberKind: 'preparation', change })).status).toBe(422);
  });

  test('more days than are kept in mind, an unknown kind of change', async () => {
    expect((await ask({ chamber: 'n-prep-1', days: 91, change: LIMITS })).status).toBe(400);
    expect((await ask({ chamber: 'n-prep-1', change: { kind: 'weather' } })).status).toBe(400);
  });

  test('when two hundred chambers wait already', async () => {
    await world.db.sql`
      insert into tasks (chamber, analyser, id, kind, request, state, asked_at, asked_by, rehearsal)
      select 'n-prep-1', 'n-prep-1-a', 'w' || n, 'rehearsal', '{}', 'waiting', now(), 'ann', 'r0'
      from generate_series(1, 200) as n`;
    const { status, headers } = await ask({ chamber: 'n-prep-1', change: LIMITS });
    expect([status, headers['retry-after']]).toEqual([429, '60']);
  });
});

describe('what it has come to', () => {
  const alert = (raisedAt: Date, signature = 'air-leak') => ({
    signature,
    gases: ['N2'],
    priority: 'high',
    raisedAt: raisedAt.toISOString(),
    returnedAt: null,
  });
  const result = (from: Date, asIs: unknown[], asChanged: unknown[]) => ({
    from: from.toISOString(),
    to: NOW.toISOString(),
    ofScans: 500,
    notes: ['Read from earlier on.'],
    asIs,
    asChanged,
    gained: asChanged,
    lost: asIs,
    moved: [],
  });
  const finish = (chamber: string, state: string, of: unknown, problem: string | null = null) => world.db.sql`
    update tasks set state = ${state}, scans = 500, problem = ${problem}, result = ${world.db.sql.json(of as never)}
    where chamber = ${chamber}`;

  test('is told while it works, and counts calls per day over the chambers that are done', async () => {
    const { id } = (await ask({ chamberKind: 'preparation', change: LIMITS })).body;
    const from = minutesAgo(10 * 24 * 60);
    // The first of these stood before the counted days: it called nobody in them.
    const asIs = [alert(minutesAgo(20 * 24 * 60)), alert(minutesAgo(60)), alert(minutesAgo(90), 'water')];
    await finish('n-prep-1', 'done', result(from, asIs, [alert(minutesAgo(60))]));
    const half = (await world.ask('GET', `/api/v1/rehearsals/${id}`)).body;
    expect(half).toMatchObject({ state: 'waiting', perDay: { asIs: 0.2, asChanged: 0.1, days: 10 } });
    expect(half.chambers[0]).toMatchObject({
      state: 'done',
      scans: 500,
      ofScans: 500,
      lost: asIs,
      notes: ['Read from earlier on.'],
    });
    await finish('n-prep-2', 'done', result(minutesAgo(5 * 24 * 60), [alert(minutesAgo(60))], []));
    const whole = (await world.ask('GET', `/api/v1/rehearsals/${id}`)).body;
    expect(whole).toMatchObject({ state: 'done', perDay: { asIs: 0.4, asChanged: 0.1, days: 10 } });
  });

  test('failed chambers do not count; when all have failed, it has failed', async () => {
    const { id } = (await ask({ chamberKind: 'preparation', change: LIMITS })).body;
    await finish('n-prep-1', 'failed', null, 'Ask again.');
    await finish('n-prep-2', 'done', result(minutesAgo(24 * 60), [], []));
    expect((await world.ask('GET', `/api/v1/rehearsals/${id}`)).body).toMatchObject({
      state: 'done',
      chambers: [{ state: 'failed', problem: 'Ask again.' }, { state: 'done' }],
      perDay: { asIs: 0, asChanged: 0, days: 1 },
    });
    await finish('n-prep-2', 'failed', null, 'Ask again.');
    expect((await world.ask('GET', `/api/v1/rehearsals/${id}`)).body).toMatchObject({ state: 'failed', perDay: null });
  });

  test('the list is newest first; of a chamber also those of its kind', async () => {
    const one = (await ask({ chamber: 'n-prep-1', change: LIMITS })).body.id;
    world.at(new Date(NOW.getTime() + 1000));
    const kind = (await ask({ chamberKind: 'preparation', change: LIMITS })).body.id;
    world.at(NOW);
    const list = async (chamber: string) =>
      (await world.ask('GET', `/api/v1/rehearsals?chamber=${chamber}`, { token: viewer })).body.rehearsals.map(
        ({ id }: { id: string }) => id,
      );
    expect(await list('n-prep-1')).toEqual([kind, one]);
    expect(await list('n-prep-2')).toEqual([kind]);
    expect((await world.ask('GET', '/api/v1/rehearsals')).body.rehearsals).toHaveLength(2);
  });
});
