import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putAlert, putReadings, type World } from '../world.ts';

let world: World;
let operator: string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  operator = await world.tokenOf('operator');
});
afterAll(() => world.close());
beforeEach(async () => {
  world.at(NOW);
  seconds = 0;
  await world.db.sql`truncate readings, latest, alerts, alert_moves, rounds`;
});

const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const later = (minutes: number) => new Date(NOW.getTime() + minutes * 60_000);
const round = async (query = '') => (await world.ask('GET', `/api/v1/round${query}`)).body;
const line = async (id = 'n-prep-1') =>
  (await round()).areas
    .flatMap(({ chambers }: { chambers: unknown[] }) => chambers)
    .find((one: { id: string }) => one.id === id);
let seconds = 0;
/** A second after the one before. */
const sign = (area: string, note?: string) => {
  world.at(new Date(NOW.getTime() + 1000 * seconds++));
  return world.ask('POST', '/api/v1/round/sign', {
    body: { area, ...(note === undefined ? {} : { note }) },
    token: operator,
  });
};
const fresh = () =>
  putReadings(world, [{ at: minutesAgo(1) }, { at: minutesAgo(1), chamber: 's-load-1', analyser: 's-load-1-a' }]);

describe('a round', () => {
  test('a chamber is at rest since the condition went, not since somebody closed its alert', async () => {
    await fresh();
    await putAlert(world, { id: 'leak', state: 'normal' });
    const over = { returned: minutesAgo(31 * 60), closed: minutesAgo(5) };
    await world.db.sql`update alerts set active = false, returned_at = ${over.returned}, closed_at = ${over.closed}`;
    expect((await line()).say).toMatch(/^At rest for 31.hours\./);
    await world.db.sql`update alerts set returned_at = null`;
    expect((await line()).say).toMatch(/^At rest for 5.minutes\./);
  });

  test('tells each area with its shift, worst chamber first, and says the whole in a sentence', async () => {
    await fresh();
    await putAlert(world, { id: 'leak' });
    const body = await round();
    expect(body).toMatchObject({
      at: NOW.toISOString(),
      headline: 'One of 2 chambers needs a person.',
      shelved: { count: 0, nextReturnsAt: null },
    });
    // 12:00 UTC in winter is 13:00 in Oslo.
    expect(body.areas).toMatchObject([
      {
        id: 'north',
        name: 'North hall',
        timeZone: 'Europe/Oslo',
        shift: { from: '06:00', to: '14:00' },
        lastSigned: null,
      },
      { id: 'south', name: 'south', timeZone: 'UTC', shift: null },
    ]);
    expect(body.areas[0].chambers).toMatchObject([{ id: 'n-prep-1', health: 'attention', change: 'new' }]);
    expect(body.areas[1].chambers).toMatchObject([
      { id: 's-load-1', health: 'rest', change: 'none', changeText: null },
    ]);
  });

  test('puts the area with the worst alert first; equal ones stand as in the document', async () => {
    const order = async () => (await round()).areas.map(({ id }: { id: string }) => id);
    await fresh();
    expect(await order()).toEqual(['north', 'south']);
    await putAlert(world, { id: 'low', priority: 'low' });
    await putAlert(world, { id: 'high', priority: 'high', chamber: 's-load-1' });
    expect(await order()).toEqual(['south', 'north']);
    await world.db.sql`update alerts set priority = 'medium'`;
    expect(await order()).toEqual(['north', 'south']);
    // Of two of the same priority, the one that nobody has.
    await world.db.sql`
      update alerts set state = 'acknowledged', acknowledged_by = 'J. Ravn', acknowledged_at = ${NOW} where id = 'low'`;
    expect(await order()).toEqual(['south', 'north']);
  });

  test('a chamber whose open alerts are all acknowledged is in hand, and needs nobody else', async () => {
    await fresh();
    await putAlert(world, { id: 'leak', priority: 'medium' });
    await putAlert(world, { id: 'wet', signature: 'water', priority: 'low' });
    expect((await line()).inHand).toBeNull();
    const acknowledge = (id: string) => world.ask('POST', `/api/v1/alerts/${id}/acknowledge`, { token: operator });
    await acknowledge('leak');
    expect((await line()).inHand).toBeNull();
    expect((await round()).headline).toBe('One of 2 chambers needs a person.');
    await acknowledge('wet');
    expect((await line()).inHand).toEqual({ by: 'operator token', at: NOW.toISOString() });
    expect((await round()).headline).toBe('No chamber waits for a person; one is in hand.');
  });

  test('of one area; 404 for one that is not there', async () => {
    expect((await round('?area=south')).areas.map(({ id }: { id: string }) => id)).toEqual(['south']);
    expect((await world.ask('GET', '/api/v1/round?area=east')).status).toBe(404);
  });

  test('says when shelved alerts come back', async () => {
    await fresh();
    await putAlert(world, { id: 'a', state: 'shelved' });
    await putAlert(world, { id: 'b', signature: 'water', state: 'shelved' });
    await world.db.sql`update alerts set shelved_until = ${later(60)} where id = 'a'`;
    await world.db.sql`update alerts set shelved_until = ${later(30)} where id = 'b'`;
    expect((await round()).shelved).toEqual({ count: 2, nextReturnsAt: later(30).toISOString() });
  });

  test('never says that all is well where nothing is seen', async () => {
    expect((await round()).headline).toBe('Nothing can be said: no chamber has sent a fresh scan.');
    await putReadings(world, [{ at: minutesAgo(2) }]);
    expect((await round()).headline).toBe('No alert asks for a person, but one of 2 chambers cannot be seen.');
    await fresh();
    expect((await round()).headline).toBe('All 2 chambers are at rest.');
  });
});

describe('signing', () => {
  test('keeps who, when, the note and what was seen', async () => {
    await fresh();
    await putAlert(world, { id: 'leak' });
    const { status, body } = await sign('north', 'V2 looks suspicious');
    expect(status).toBe(200);
    expect(body).toEqual({
      id: expect.any(String),
      area: 'north',
      at: NOW.toISOString(),
      by: 'operator token',
      note: 'V2 looks suspicious',
    });
    await world.db.sql`truncate alerts, latest`;
    const kept = (await world.ask('GET', `/api/v1/rounds/${body.id}`)).body;
    expect(kept).toMatchObject({
      ...body,
      chambers: [{ id: 'n-prep-1', health: 'attention', change: 'new', worst: { id: 'leak' } }],
    });
    const { lastSigned } = (await round()).areas[0];
    expect(lastSigned).toEqual({
      id: body.id,
      at: NOW.toISOString(),
      by: 'operator token',
      note: 'V2 looks suspicious',
      countersigned: null,
    });
    expect(await world.db.sql`select what from audit where what = 'round signed'`).toHaveLength(1);
  });

  test('an area that is not there: 404; an unknown round: 404', async () => {
    expect((await sign('east')).status).toBe(404);
    expect((await world.ask('GET', '/api/v1/rounds/none')).status).toBe(404);
  });

  test('is the newest that counts, per area', async () => {
    await fresh();
    await sign('north', 'first');
    await sign('north', 'second');
    await sign('south', 'other');
    const { areas } = await round();
    expect(areas.map(({ lastSigned }: { lastSigned: { note: string } }) => lastSigned.note)).toEqual([
      'second',
      'other',
    ]);
  });
});

describe('what has changed since the last signed round', () => {
  beforeEach(async () => {
    await fresh();
    await sign('north');
  });

  test('nothing', async () => {
    expect(await line()).toMatchObject({ change: 'none', changeText: null });
  });
  test('a new alert', async () => {
    await putAlert(world, { id: 'leak' });
    expect(await line()).toMatchObject({ change: 'new', changeText: 'At the last round it was at rest.' });
  });
  test('an alert that was seen is not new again', async () => {
    await putAlert(world, { id: 'leak' });
    await sign('north');
    expect(await line()).toMatchObject({ health: 'attention', change: 'none' });
  });
  test('a seen alert whose gas has risen is worse', async () => {
    await putAlert(world, { id: 'leak' });
    await sign('north');
    await world.db.sql`
      update latest set strip = '[{"gas": "N2", "status": "measured", "decades": 0.7, "halfWidth": 0.3}]'`;
    expect(await line()).toMatchObject({
      change: 'worse',
      changeText: 'Nitrogen has risen 4 times since the last round.',
      strip: [{ gas: 'N2', decades: 0.7, atLastRound: 0.1 }],
    });
  });
  test('a seen alert of higher priority is worse', async () => {
    await putAlert(world, { id: 'leak', priority: 'low' });
    await sign('north');
    await world.db.sql`update alerts set priority = 'high'`;
    expect(await line()).toMatchObject({ change: 'worse', changeText: 'Priority was low.' });
  });
  test('an alert that is over is better', async () => {
    await putAlert(world, { id: 'leak' });
    await sign('north');
    await world.db.sql`update alerts set state = 'normal', returned_at = ${NOW}`;
    expect(await line()).toMatchObject({ change: 'better', changeText: 'At the last round it needed a person.' });
  });
  test('silence is worse', async () => {
    world.at(later(30));
    expect(await line()).toMatchObject({ health: 'blind', change: 'worse' });
  });
  test('another operating state is as expected', async () => {
    await world.db.sql`update latest set state = 'transfer' where chamber = 'n-prep-1'`;
    expect(await line()).toMatchObject({ change: 'as expected', changeText: 'State was base, is transfer.' });
  });
});
