import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { SIGNATURES } from '../../../shared/contract/words.ts';
import { FINDING, FLEET, NOW, openWorld, putAlert, type World } from '../world.ts';

let world: World;
let anna: string;
let bert: string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  const make = async (name: string) =>
    (await world.ask('POST', '/api/v1/tokens', { body: { name, role: 'operator' } })).body.token;
  anna = await make('anna');
  bert = await make('bert');
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate alerts, alert_moves`;
  await putAlert(world, { id: 'leak' });
});

const move = (id: string, name: string, body?: unknown, token = anna) =>
  world.ask('POST', `/api/v1/alerts/${id}/${name}`, { ...(body === undefined ? {} : { body }), token });
const read = async (id: string) => (await world.ask('GET', `/api/v1/alerts/${id}`)).body;
const list = async (query = '') =>
  (await world.ask('GET', `/api/v1/alerts${query}`)).body.alerts.map(({ id }: { id: string }) => id);
const inHours = (hours: number) => new Date(NOW.getTime() + hours * 3_600_000).toISOString();

describe('the list', () => {
  beforeEach(async () => {
    await putAlert(world, {
      id: 'wet',
      chamber: 's-load-1',
      signature: 'water',
      raisedAt: new Date('2026-03-02T11:00:00Z'),
    });
    await putAlert(world, {
      id: 'old',
      signature: 'helium',
      state: 'normal',
      raisedAt: new Date('2026-02-01T00:00:00Z'),
    });
  });

  test('holds alerts as described, newest first', async () => {
    const { body } = await world.ask('GET', '/api/v1/alerts');
    expect(body.alerts.map(({ id }: { id: string }) => id)).toEqual(['wet', 'leak', 'old']);
    expect(body.alerts[1]).toEqual({
      id: 'leak',
      chamber: 'n-prep-1',
      analyser: 'n-prep-1-a',
      signature: 'air-leak',
      gases: ['N2', 'O2', 'Ar'],
      priority: 'high',
      state: 'unacknowledged',
      raisedAt: '2026-03-02T10:00:00.000Z',
      returnedAt: null,
      acknowledged: null,
      shelvedUntil: null,
      closed: null,
      ...FINDING,
      latched: false,
      shelvings: 0,
      suppressed: null,
      outOfService: null,
      verified: null,
      group: null,
    });
  });

  test.each([
    ['?chamber=s-load-1', ['wet']],
    ['?state=normal', ['old']],
    ['?state=unacknowledged,normal', ['wet', 'leak', 'old']],
    ['?signature=air-leak,helium', ['leak', 'old']],
    ['?from=2026-03-02T10:30:00Z', ['wet']],
    ['?to=2026-03-02T10:00:00Z', ['leak', 'old']],
    ['?from=2026-03-02T10:00:00Z&to=2026-03-02T11:00:00%2B00:00', ['wet', 'leak']],
    ['?limit=1', ['wet']],
    ['?chamber=nowhere', []],
  ])('%s', async (query, expected) => {
    expect(await list(query)).toEqual(expected);
  });

  test.each(['state=open', 'signature=ghost', 'from=now', 'colour=red'])('%s: 400', async (query) => {
    expect((await world.ask('GET', `/api/v1/alerts?${query}`)).status).toBe(400);
  });
});

describe('moving an alert', () => {
  test('acknowledging keeps who, when and the note, in the alert and in its moves', async () => {
    const { status, body } = await move('leak', 'acknowledge', { note: 'on my way' });
    expect(status).toBe(200);
    const acknowledged = { by: 'anna', at: NOW.toISOString(), note: 'on my way' };
    expect(body).toMatchObject({ state: 'acknowledged', acknowledged });
    expect((await read('leak')).moves).toEqual([
      { at: '2026-03-02T10:00:00.000Z', by: null, move: 'raise', from: null, to: 'unacknowledged', note: null },
      {
        at: NOW.toISOString(),
        by: 'anna',
        move: 'acknowledge',
        from: 'unacknowledged',
        to: 'acknowledged',
        note: 'on my way',
      },
    ]);
  });

  test('needs no note, and no body', async () => {
    expect((await move('leak', 'acknowledge')).body.acknowledged.note).toBe('');
  });

  test('a second person is told who was first, and nothing changes', async () => {
    await move('leak', 'acknowledge', { note: 'mine' });
    const { status, body } = await move('leak', 'acknowledge', { note: 'no, mine' }, bert);
    expect(status).toBe(409);
    expect(body.detail).toContain('anna');
    expect(body.detail).toContain(NOW.toISOString());
    expect((await read('leak')).acknowledged).toMatchObject({ by: 'anna', note: 'mine' });
  });

  test('of ten who press at once, one is first', async () => {
    const answers = await Promise.all(
      Array.from({ length: 10 }, (_, i) => move('leak', 'acknowledge', { note: `${i}` }, i % 2 ? anna : bert)),
    );
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
    expect(answers.filter(({ status }) => status === 409)).toHaveLength(9);
    expect((await read('leak')).moves).toHaveLength(2);
  });

  test('shelving puts it away until a time, and back', async () => {
    const { body } = await move('leak', 'shelve', { until: inHours(8), reason: 'waiting for a part' });
    expect(body).toMatchObject({ state: 'shelved', shelvedUntil: inHours(8) });
    expect((await move('leak', 'acknowledge', {})).status).toBe(409);
    expect((await move('leak', 'shelve', { until: inHours(9), reason: 'again' })).status).toBe(409);
    expect((await move('leak', 'unshelve', {})).body).toMatchObject({ state: 'unacknowledged', shelvedUntil: null });
    expect((await move('leak', 'unshelve')).status).toBe(409);
    expect((await read('leak')).moves.map(({ move: name }: { move: string }) => name)).toEqual([
      'raise',
      'shelve',
      'unshelve',
    ]);
  });

  test.each([
    [{ until: inHours(-1), reason: 'x' }, 422, '/until'],
    [{ until: NOW.toISOString(), reason: 'x' }, 422, '/until'],
    [{ until: inHours(24.01), reason: 'x' }, 422, '/until'],
    [{ until: 'tomorrow', reason: 'x' }, 400, '/until'],
    [{ reason: 'x' }, 400, '/until'],
    [{ until: inHours(1) }, 400, '/reason'],
    [{ until: inHours(1), reason: '' }, 400, '/reason'],
    [{ until: inHours(1), reason: ' ' }, 422, '/reason'],
    [{ until: inHours(1), reason: 'x', note: 'y' }, 400, '/note'],
  ])('shelving with %j: %d', async (body, status, path) => {
    expect(await move('leak', 'shelve', body)).toMatchObject({ status, body: { errors: [{ path }] } });
    expect((await read('leak')).state).toBe('unacknowledged');
  });

  test('closing ends it with a cause; afterwards nothing moves it', async () => {
    const { body } = await move('leak', 'close', { cause: 'seal replaced', note: 'CF63 at V2' });
    expect(body).toMatchObject({ state: 'normal', closed: { by: 'anna', cause: 'seal replaced', note: 'CF63 at V2' } });
    for (const [name, more] of [
      ['acknowledge', {}],
      ['shelve', { until: inHours(1), reason: 'x' }],
      ['unshelve', {}],
      ['close', { cause: 'x' }],
    ] as const) {
      const refused = await move('leak', name, more, bert);
      expect(refused.status).toBe(409);
      expect(refused.body.detail).toMatch(/closed by anna/);
    }
    expect((await move('leak', 'close', { cause: ' ' })).status).toBe(422);
  });

  test('an alert that is not there: 404', async () => {
    expect((await move('ghost', 'acknowledge', {})).status).toBe(404);
    expect((await world.ask('GET', '/api/v1/alerts/ghost')).status).toBe(404);
  });
});

test('every signature has a sheet with steps and cautions', async () => {
  const { signatures } = (await world.ask('GET', '/api/v1/signatures')).body;
  expect(signatures.map(({ signature }: { signature: string }) => signature)).toEqual(SIGNATURES);
  for (const sheet of signatures) {
    expect(sheet.steps[0]).toMatch(/^First /);
    expect(sheet.cautions.length).toBeGreaterThan(0);
  }
});

test('every number of the catalogue comes with its source', async () => {
  const { gases, version } = (await world.ask('GET', '/api/v1/gases')).body;
  expect(version.length).toBeGreaterThan(0);
  expect(gases.length).toBeGreaterThanOrEqual(45);
  const n2 = gases.find(({ id }: { id: string }) => id === 'N2');
  expect(n2).toMatchObject({ formula: 'N2', name: 'nitrogen', relativeSensitivity: { value: 1 } });
  for (const gas of gases) {
    expect(gas.relativeSensitivity.source.ref.length).toBeGreaterThan(0);
    for (const record of gas.records) {
      expect(Object.keys(record.peaks).length).toBeGreaterThan(0);
      expect(record.source.kind).toMatch(/published|calculated|common practice|from memory/);
    }
  }
});
