import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putAlert, putReadings, type World } from '../world.ts';

let world: World;
let outgoing: string;
let incoming: string;
const named = async (name: string, role = 'operator') =>
  (await world.ask('POST', '/api/v1/tokens', { body: { name, role } })).body.token as string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  outgoing = await named('J. Ravn');
  incoming = await named('M. Tveit');
});
afterAll(() => world.close());
beforeEach(async () => {
  world.at(NOW);
  await world.db.sql`truncate readings, latest, alerts, alert_moves, rounds, handover_entries, audit`;
});

const later = (minutes: number) => new Date(NOW.getTime() + minutes * 60_000);
const sign = async (area = 'north', note = '') =>
  (await world.ask('POST', '/api/v1/round/sign', { body: { area, note }, token: outgoing })).body.id as string;
const countersign = (id: string, token: string, body: Record<string, unknown> = {}) =>
  world.ask('POST', `/api/v1/round/${id}/countersign`, { body, token });
const read = async (id: string) => (await world.ask('GET', `/api/v1/rounds/${id}`)).body;

describe('what was handed over', () => {
  test('is kept exactly as it stood, whatever becomes of it', async () => {
    await putReadings(world, [{ at: later(-1) }]);
    await putAlert(world, { id: 'leak' });
    const promise = { kind: 'promise', chamber: 'n-prep-1', text: 'call back' };
    const entry = (await world.ask('POST', '/api/v1/handover/entries', { body: promise, token: outgoing })).body;
    const draft = (await world.ask('GET', '/api/v1/round/handover?area=north')).body.areas[0];
    const id = await sign();
    world.at(later(5));
    await world.ask('POST', `/api/v1/handover/entries/${entry.id}/close`, { token: incoming });
    await world.ask('POST', '/api/v1/alerts/leak/acknowledge', { token: incoming });
    await world.db.sql`update chambers set name = 'Renamed' where id = 'n-prep-1'`;
    expect((await read(id)).handover).toEqual(draft);
    expect(draft.promises).toHaveLength(1);
    await world.db.sql`update chambers set name = 'Preparation 1' where id = 'n-prep-1'`;
  });

  test('rounds that were signed before handovers were kept can still be read', async () => {
    const id = await sign();
    await world.db.sql`
      update rounds set handover = null, signed_as = null,
        seen = jsonb_set(seen, '{chambers,0,line}', (seen #> '{chambers,0,line}') - 'inHand')`;
    expect(await read(id)).toMatchObject({ id, handover: null, chambers: [{ id: 'n-prep-1', inHand: null }] });
    // Of such a round nothing but the name tells who signed it.
    expect((await countersign(id, outgoing)).status).toBe(409);
    expect((await countersign(id, incoming)).status).toBe(200);
  });
});

describe('countersigning', () => {
  test('says who took over, when and with which note; the round shows it', async () => {
    const id = await sign('north', 'V2 closed');
    expect((await world.ask('GET', '/api/v1/round?area=north')).body.areas[0].lastSigned).toMatchObject({
      id,
      countersigned: null,
    });
    world.at(later(3));
    const { status, body } = await countersign(id, incoming, { note: 'V2 seen' });
    expect(status).toBe(200);
    const countersigned = { by: 'M. Tveit', at: later(3).toISOString(), note: 'V2 seen' };
    expect(body).toMatchObject({ id, by: 'J. Ravn', note: 'V2 closed', areaName: 'North hall', countersigned });
    expect(await read(id)).toEqual(body);
    expect((await world.ask('GET', '/api/v1/round')).body.areas[0].lastSigned).toMatchObject({ id, countersigned });
    const [line] = await world.db.sql`select by, detail from audit where what = 'round countersigned'`;
    expect(line).toEqual({ by: 'M. Tveit', detail: { area: 'north', id, note: 'V2 seen' } });
  });

  test('the signer may not, and is told why', async () => {
    const id = await sign();
    const { status, body } = await countersign(id, outgoing);
    expect(status).toBe(409);
    expect(body.detail).toMatch(/^J\. Ravn signed this round on .*: another person than the signer\.$/);
    expect((await read(id)).countersigned).toBeNull();
  });

  test('two people of one name are two people', async () => {
    const id = await sign();
    const password = 'four small grey pumps';
    await world.ask('POST', '/api/v1/people', {
      body: { login: 'ravn2', name: 'J. Ravn', role: 'operator', password },
    });
    const signedIn = await world.ask('POST', '/api/v1/session', { body: { login: 'ravn2', password }, token: null });
    const cookie = String(signedIn.headers['set-cookie']).split(';')[0] as string;
    const answer = await world.ask('POST', `/api/v1/round/${id}/countersign`, {
      token: null,
      headers: { cookie, 'sec-fetch-site': 'same-origin' },
      body: {},
    });
    expect([answer.status, answer.body.countersigned?.by]).toEqual([200, 'J. Ravn']);
  });

  test('of many at once one is first, and all others hear who', async () => {
    const id = await sign();
    const tokens = await Promise.all(['a', 'b', 'c', 'd'].map((name) => named(`Taker ${name}`)));
    const answers = await Promise.all(tokens.map((token) => countersign(id, token)));
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
    const first = (await read(id)).countersigned.by;
    for (const { status, body } of answers.filter((answer) => answer.status !== 200)) {
      expect(status).toBe(409);
      expect(body.detail).toBe(`This round is countersigned already: ${first} was first, ${NOW.toISOString()}.`);
    }
    expect(await world.db.sql`select 1 from audit where what = 'round countersigned'`).toHaveLength(1);
  });

  test('a viewer may not, and an unknown round is 404', async () => {
    const id = await sign();
    expect((await countersign(id, await named('Guest', 'viewer'))).status).toBe(403);
    expect((await countersign('round-none', incoming)).status).toBe(404);
  });
});

describe('earlier rounds', () => {
  test('are listed newest first, of an area or of all, page by page', async () => {
    const ids: string[] = [];
    for (const [i, area] of ['north', 'south', 'north'].entries()) {
      world.at(later(i));
      ids.unshift(await sign(area, `round ${i}`));
    }
    const list = async (query = '') =>
      (await world.ask('GET', `/api/v1/rounds${query}`)).body.rounds.map(({ id }: { id: string }) => id);
    expect(await list()).toEqual(ids);
    expect(await list('?area=south')).toEqual([ids[1]]);
    expect(await list('?limit=2')).toEqual(ids.slice(0, 2));
    expect(await list(`?before=${later(1).toISOString()}`)).toEqual([ids[2]]);
    expect((await world.ask('GET', '/api/v1/rounds?before=then')).status).toBe(400);
    expect((await world.ask('GET', '/api/v1/rounds?limit=0')).status).toBe(400);
    expect((await world.ask('GET', '/api/v1/rounds')).body.rounds[0]).toEqual({
      id: ids[0],
      area: 'north',
      areaName: 'North hall',
      at: later(2).toISOString(),
      by: 'J. Ravn',
      note: 'round 2',
      countersigned: null,
    });
  });
});
