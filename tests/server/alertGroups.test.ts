/** Groups as they are asked for, from alerts, fleet and moves in the database. */
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { NOW, openWorld, putAlert, putReadings, type World } from './world.ts';

let world: World;
const ids = Array.from({ length: 14 }, (_, i) => `c${i}`);
beforeAll(async () => {
  world = await openWorld();
  const chambers = ids.map((id, i) => ({ id, area: i < 8 ? 'west' : 'east', tags: i < 4 ? ['foreline 2'] : [] }));
  const areas = [
    { id: 'west', name: 'West hall' },
    { id: 'east', name: 'East hall' },
  ];
  const analysers = ids.map((id) => ({ id: `${id}-a`, chamber: id }));
  await world.ask('PUT', '/api/v1/fleet', { body: { areas, chambers, analysers } });
});
afterAll(() => world.close());
beforeEach(() => world.db.sql`truncate alerts, alert_moves, latest`);

const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const wet = (chamber: string, minutes: number, more: object = {}) =>
  putAlert(world, {
    id: `wet-${chamber}`,
    chamber,
    signature: 'water',
    priority: 'low',
    raisedAt: minutesAgo(minutes),
    ...more,
  });
const groups = async (query = '') => (await world.ask('GET', `/api/v1/alerts/groups${query}`)).body.groups;

describe('GET /alerts/groups', () => {
  test('three chambers of one foreline are told once, with what they share; their alerts name the group', async () => {
    for (const [i, chamber] of ['c0', 'c1', 'c2'].entries()) await wet(chamber, 60 - 5 * i);
    await wet('c9', 58);
    const [group, ...more] = await groups();
    expect(more).toEqual([]);
    expect(group).toMatchObject({
      id: 'shared-wet-c0',
      kind: 'shared cause',
      signature: 'water',
      priority: 'low',
      from: minutesAgo(60).toISOString(),
      to: minutesAgo(50).toISOString(),
      shared: ['foreline 2', 'West hall'],
      alerts: ['wet-c0', 'wet-c1', 'wet-c2'],
      chambers: ['c0', 'c1', 'c2'],
      open: 3,
    });
    const { alerts } = (await world.ask('GET', '/api/v1/alerts')).body;
    const byId = Object.fromEntries(alerts.map(({ id, group: own }: { id: string; group: string }) => [id, own]));
    expect(byId).toEqual({ 'wet-c0': group.id, 'wet-c1': group.id, 'wet-c2': group.id, 'wet-c9': null });
    expect((await world.ask('GET', '/api/v1/alerts/wet-c1')).body.group).toBe(group.id);
    // Also when only one of them is asked for.
    expect((await world.ask('GET', '/api/v1/alerts?chamber=c2')).body.alerts[0].group).toBe(group.id);
  });

  test('where scans come every half hour, the window is longer', async () => {
    for (const [i, chamber] of ['c0', 'c1', 'c2'].entries()) await wet(chamber, 200 - 60 * i);
    expect(await groups()).toEqual([]);
    for (const chamber of ['c0', 'c1', 'c2'])
      await putReadings(world, [{ chamber, analyser: `${chamber}-a`, at: NOW }]);
    await world.db.sql`update latest set scan_period_seconds = 1800`;
    expect((await groups()).map(({ chambers }: { chambers: string[] }) => chambers)).toEqual([['c0', 'c1', 'c2']]);
  });

  test('more than ten calls in ten minutes are a flood, beside what they share', async () => {
    for (const [i, chamber] of ids.entries()) await wet(chamber, 30 - i * 0.5);
    const kinds = (await groups()).map(({ kind, chambers }: { kind: string; chambers: string[] }) => [
      kind,
      chambers.length,
    ]);
    expect(kinds.sort()).toEqual([
      ['flood', 14],
      ['shared cause', 6],
      ['shared cause', 8],
    ]);
  });

  test('only those that touch the span, whole and with the id that they have', async () => {
    for (const [i, chamber] of ['c0', 'c1', 'c2'].entries()) await wet(chamber, 60 - 10 * i);
    const id = ['shared-wet-c0'];
    const idsOf = async (from: number, to: number) =>
      (await groups(`?from=${minutesAgo(from).toISOString()}&to=${minutesAgo(to).toISOString()}`)).map(
        (g: { id: string }) => g.id,
      );
    expect(await idsOf(45, 0)).toEqual(id);
    expect(await idsOf(90, 55)).toEqual(id);
    expect(await idsOf(30, 0)).toEqual([]);
    expect((await world.ask('GET', '/api/v1/alerts/groups?from=yesterday')).status).toBe(400);
  });

  test('the round says one cause', async () => {
    for (const chamber of ['c0', 'c1', 'c2']) await wet(chamber, 20);
    const { headline } = (await world.ask('GET', '/api/v1/round')).body;
    expect(headline).toContain('Three of 14 chambers need a person, with one cause by the look of it');
  });
});
