import { afterAll, beforeAll, expect, test } from 'vitest';
import { aScan, FLEET, NOW, openWorld, putReadings, type World } from '../world.ts';

let world: World;
const A = 'n-prep-1-a';
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  const scan = (minute: number, changed = {}) =>
    aScan({ id: `s${minute}`, at: minutesAgo(minute).toISOString(), ...changed });
  const scans = [
    scan(30, { averages: 4, detector: 'multiplier', state: 'bake', totalPressure: { value: 2e-8, unit: 'mbar' } }),
    scan(20),
    scan(10),
  ];
  await world.ask('POST', '/api/v1/scans', { body: { scans } });
  await putReadings(world, [{ at: minutesAgo(20), scanId: 's20', state: 'gas-on' }]);
});
afterAll(() => world.close());

const lines = async (query = '') => (await world.ask('GET', `/api/v1/analysers/${A}/scans?${query}`)).body;

test('scans of a span, newest first, with what is known of them', async () => {
  const { unit, scans } = await lines(`from=${minutesAgo(35).toISOString()}&to=${minutesAgo(15).toISOString()}`);
  expect(unit).toBe('Pa');
  expect(scans).toMatchObject([
    { id: 's20', at: minutesAgo(20).toISOString(), state: 'gas-on', seconds: 20, averages: 1, gauge: null, sum: 1e-6 },
    { id: 's30', state: 'bake', averages: 4, detector: 'multiplier', gauge: 2e-6, sum: null },
  ]);
});

test('at most as many as asked for, the newest, in the asked unit', async () => {
  const { scans } = await lines('limit=2&unit=mbar');
  expect(scans.map(({ id }: { id: string }) => id)).toEqual(['s10', 's20']);
  expect(scans[1].sum).toBeCloseTo(1e-8, 14);
  expect((await world.ask('GET', `/api/v1/analysers/${A}/scans?limit=0`)).status).toBe(400);
});
