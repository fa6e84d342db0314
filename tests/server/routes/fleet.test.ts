import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FLEET, openWorld, putReadings, type World } from '../world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate areas, chambers, analysers, fleet_versions, audit`;
});

const put = (body: unknown, query = '') => world.ask('PUT', `/api/v1/fleet${query}`, { body });
const get = async () => (await world.ask('GET', '/api/v1/fleet')).body;
const nothing = { areas: [], chambers: [], analysers: [] };
const changed = (change: (fleet: typeof FLEET) => void) => {
  const fleet = structuredClone(FLEET);
  change(fleet);
  return fleet;
};

describe('applying a fleet', () => {
  test('says what was added, gives the document back as applied and in order, and keeps it in the audit', async () => {
    const { status, body } = await put(FLEET);
    expect(status).toBe(200);
    expect(body).toEqual({
      applied: true,
      added: {
        areas: ['north', 'south'],
        chambers: ['n-prep-1', 's-load-1'],
        analysers: ['n-prep-1-a', 'n-prep-1-b', 's-load-1-a'],
      },
      changed: nothing,
      retired: nothing,
    });
    expect(await get()).toEqual(FLEET);
    expect(await world.db.sql`select by, what from audit`).toMatchObject([
      { by: 'admin token', what: 'fleet applied' },
    ]);
  });

  test('twice changes nothing', async () => {
    await put(FLEET);
    expect((await put(FLEET)).body).toEqual({ applied: false, added: nothing, changed: nothing, retired: nothing });
    expect(await world.db.sql`select 1 from fleet_versions`).toHaveLength(1);
    expect(await world.db.sql`select distinct version from analysers`).toEqual([{ version: 1 }]);
  });

  test('with its keys in another order changes nothing either', async () => {
    await put(FLEET);
    const turned = { ...FLEET, chambers: FLEET.chambers.map((c) => Object.fromEntries(Object.entries(c).reverse())) };
    expect((await put(turned)).body.applied).toBe(false);
  });

  test('as a dry run says what would change, and changes nothing', async () => {
    const { body } = await put(FLEET, '?dryRun=true');
    expect(body).toMatchObject({ applied: false, added: { areas: ['north', 'south'] } });
    expect(await get()).toEqual(nothing);
    expect((await put(FLEET, '?dryRun=perhaps')).status).toBe(400);
  });

  test('in another order changes the order only', async () => {
    await put(FLEET);
    const turned = { ...FLEET, analysers: [...FLEET.analysers].reverse() };
    expect((await put(turned)).body).toMatchObject({ applied: true, changed: nothing });
    expect((await get()).analysers.map(({ id }: { id: string }) => id)).toEqual([
      's-load-1-a',
      'n-prep-1-b',
      'n-prep-1-a',
    ]);
    expect(await world.db.sql`select distinct version from analysers`).toEqual([{ version: 1 }]);
  });

  test('that differs in an analyser raises the version of that analyser alone', async () => {
    await put(FLEET);
    const { body } = await put(
      changed((fleet) => {
        fleet.analysers[0]!.sensitivityAmperesPerPascal = 8e-7;
      }),
    );
    expect(body).toMatchObject({ applied: true, changed: { areas: [], chambers: [], analysers: ['n-prep-1-a'] } });
    expect(await world.db.sql`select id, version from analysers order by id`).toEqual([
      { id: 'n-prep-1-a', version: 2 },
      { id: 'n-prep-1-b', version: 1 },
      { id: 's-load-1-a', version: 1 },
    ]);
  });

  test('retires what is missing, keeps it with its history, and takes it up again', async () => {
    await put(FLEET);
    await putReadings(world, [{ at: new Date('2026-03-02T11:00:00Z') }]);
    const south = {
      areas: FLEET.areas.slice(1),
      chambers: FLEET.chambers.slice(1),
      analysers: FLEET.analysers.slice(2),
    };
    const { body } = await put(south);
    expect(body.retired).toEqual({
      areas: ['north'],
      chambers: ['n-prep-1'],
      analysers: ['n-prep-1-a', 'n-prep-1-b'],
    });
    expect(await get()).toEqual(south);
    const { chambers } = (await world.ask('GET', '/api/v1/chambers')).body;
    expect(chambers.map(({ id }: { id: string }) => id)).toEqual(['s-load-1']);
    const kept = await world.ask('GET', '/api/v1/chambers/n-prep-1');
    expect(kept.body).toMatchObject({ retired: true, health: 'unwatched', lastScanAt: '2026-03-02T11:00:00.000Z' });
    expect((await put(FLEET)).body.added.chambers).toEqual(['n-prep-1']);
    expect((await world.ask('GET', '/api/v1/chambers/n-prep-1')).body.retired).toBe(false);
    await world.db.sql`truncate readings, latest`;
  });

  test('at once from several places leaves one of the documents whole', async () => {
    const documents = Array.from({ length: 6 }, (_, i) =>
      changed((fleet) => {
        fleet.chambers[0]!.name = `Name ${i}`;
      }),
    );
    const answers = await Promise.all(documents.map((document) => put(document)));
    expect(answers.map(({ status }) => status)).toEqual(Array(6).fill(200));
    expect(documents).toContainEqual(await get());
  });
});

describe('a document that does not fit', () => {
  const IMPOSSIBLE: [string, (fleet: typeof FLEET) => void, string][] = [
    [
      'an area twice',
      (f) => {
        f.areas[1]!.id = 'north';
      },
      '/areas/1/id',
    ],
    [
      'a chamber twice',
      (f) => {
        f.chambers[1]!.id = 'n-prep-1';
      },
      '/chambers/1/id',
    ],
    [
      'an analyser twice',
      (f) => {
        f.analysers[1]!.id = 'n-prep-1-a';
      },
      '/analysers/1/id',
    ],
    [
      'an unknown area',
      (f) => {
        f.chambers[1]!.area = 'east';
      },
      '/chambers/1/area',
    ],
    [
      'an unknown chamber',
      (f) => {
        f.analysers[2]!.chamber = 'x';
      },
      '/analysers/2/chamber',
    ],
    ['an unknown gas', (f) => void f.chambers[0]!.gases!.push('unobtainium'), '/chambers/0/gases/1'],
    [
      'a speed for an unknown gas',
      (f) => void Object.assign(f.chambers[0]!.pumpingSpeedLitresPerSecond!, { Qq: 1 }),
      '/chambers/0/pumpingSpeedLitresPerSecond/Qq',
    ],
    [
      'a time zone that is none',
      (f) => {
        f.areas[0]!.timeZone = 'Mars/Olympus';
      },
      '/areas/0/timeZone',
    ],
    [
      'an offset as time zone',
      (f) => {
        f.areas[0]!.timeZone = '+02:00';
      },
      '/areas/0/timeZone',
    ],
    [
      'a mass range that runs backwards',
      (f) => {
        f.analysers[0]!.massRange = [100, 1];
      },
      '/analysers/0/massRange',
    ],
    ['a shift twice', (f) => void f.areas[0]!.shifts!.push('06:00'), '/areas/0/shifts'],
  ];
  test.each(IMPOSSIBLE)('%s: 422 with its path, and nothing is applied', async (_name, change, path) => {
    const answer = await put(changed(change));
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map((one: { path: string }) => one.path)).toContain(path);
    expect(await get()).toEqual(nothing);
  });

  test('an analyser in another chamber: 422 that explains', async () => {
    await put(FLEET);
    const { status, body } = await put(
      changed((f) => {
        f.analysers[1]!.chamber = 's-load-1';
      }),
    );
    expect(status).toBe(422);
    expect(body.errors).toEqual([
      { path: '/analysers/1/chamber', problem: expect.stringMatching(/history.*n-prep-1/) },
    ]);
    expect(await get()).toEqual(FLEET);
  });

  test.each<[string, unknown, string]>([
    ['an unknown field', { ...FLEET, plants: [] }, '/plants'],
    [
      'an unknown field below',
      changed((f) => void Object.assign(f.chambers[0]!, { colour: 'red' })),
      '/chambers/0/colour',
    ],
    ['a missing list', { areas: [], chambers: [] }, '/analysers'],
    [
      'an id with a blank',
      changed((f) => {
        f.areas[0]!.id = 'a b';
      }),
      '/areas/0/id',
    ],
    [
      'a volume as text',
      changed((f) => void Object.assign(f.chambers[0]!, { volumeLitres: '42' })),
      '/chambers/0/volumeLitres',
    ],
    [
      'a volume of 0',
      changed((f) => {
        f.chambers[0]!.volumeLitres = 0;
      }),
      '/chambers/0/volumeLitres',
    ],
    [
      'a principle that is none',
      changed((f) => {
        f.analysers[0]!.principle = 'magic';
      }),
      '/analysers/0/principle',
    ],
    ['a shift at 25:00', changed((f) => void f.areas[0]!.shifts!.push('25:00')), '/areas/0/shifts/3'],
    [
      'a name with NUL',
      changed((f) => {
        f.areas[0]!.name = 'a\0';
      }),
      '/areas/0/name',
    ],
  ])('%s: 400 with its path', async (_name, document, path) => {
    const answer = await put(document);
    expect(answer).toMatchObject({ status: 400, body: { status: 400, errors: [{ path }] } });
  });
});

test('a document of a thousand chambers goes in at once', async () => {
  const chambers = Array.from({ length: 1000 }, (_, i) => ({ id: `c${i}`, area: 'north' }));
  const analysers = chambers.map(({ id }) => ({ id: `${id}-a`, chamber: id }));
  const { body } = await put({ areas: [{ id: 'north' }], chambers, analysers });
  expect(body.added.analysers).toHaveLength(1000);
  expect((await world.ask('GET', '/api/v1/chambers?sort=attention')).body.chambers).toHaveLength(1000);
});
