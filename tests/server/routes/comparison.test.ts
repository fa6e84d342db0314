/** Outside: that hot ionisers make CO and CO2, four fifths and more of what one study measured (RAL-TR-2016-008). */
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putReadings, type TestReading, type World } from '../world.ts';

let world: World;
const [A, B] = ['n-prep-1-a', 'n-prep-1-b'];
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate readings, latest`;
});

const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const HOLDS = { N2: 2e-8, H2O: 5e-8, Ar: 3e-10, CO: 1e-9 };
const series = (analyser: string, gases: TestReading['gases'] = HOLDS, scans = 40): TestReading[] =>
  Array.from({ length: scans }, (_, k) => ({ analyser, at: minutesAgo(60 - k), gases }));
const compare = (query = '', first = A, second = B, relativeTo = 'nitrogen') =>
  world.ask(
    'GET',
    `/api/v1/chambers/n-prep-1/comparison?first=${first}&second=${second}&relativeTo=${relativeTo}${query}`,
  );

test('each gas relative to the chosen one, with the verdict which adds gas', async () => {
  await putReadings(world, [...series(A), ...series(B, { N2: 1e-8, H2O: 2.5e-8, Ar: 1.5e-10, CO: 5e-9 })]);
  const { status, body } = await compare('&unit=mbar');
  expect(status).toBe(200);
  expect(body).toMatchObject({
    chamber: 'n-prep-1',
    analysers: [A, B],
    unit: 'mbar',
    relativeTo: 'N2',
    scans: [40, 40],
    addsGas: { analyser: B, gases: ['CO'] },
  });
  expect(body.gases.map(({ gas }: { gas: string }) => gas)).toEqual(['H2O', 'CO', 'N2', 'Ar']);
  const co = body.gases[1];
  expect(co).toMatchObject({ ratio: 10, differs: 'yes', first: { value: 1e-11, detectedShare: 1 } });
  // Both stored intervals of CO and N2 reach from 0.8 to 1.25: ln 1.25 each, four of them.
  expect(Math.log(co.ratioHigh / co.ratio)).toBeCloseTo(2 * Math.log(1.25), 3);
  expect(body.gases[0]).toMatchObject({ ratio: 1, differs: 'no' });
  expect(body.verdict).toMatch(/^n-prep-1-b most likely adds carbon monoxide of its own/);
  expect(body.notes.map(({ code }: { code: string }) => code)).toEqual(['ratios-only', 'intervals-wide']);
});

test('a chosen gas that ionisers make carries a note and accuses nobody', async () => {
  await putReadings(world, [...series(A), ...series(B, { ...HOLDS, CO: 5e-8 })]);
  const { body } = await compare('', A, B, 'CO');
  expect(body.addsGas).toBeNull();
  expect(body.notes.map(({ code }: { code: string }) => code)).toContain('reference-may-be-made');
});

test('scans without an answer do not count', async () => {
  await putReadings(world, [...series(A), ...series(B)]);
  await world.db
    .sql`update readings set estimates = null, detected = null where analyser = ${A} and at < ${minutesAgo(50)}`;
  expect((await compare()).body.scans).toEqual([30, 40]);
});

test('what cannot be compared is refused with the reason', async () => {
  await putReadings(world, [...series(A), ...series(B, { N2: { below: 1e-10 }, CO: 1e-9 })]);
  expect(await compare()).toMatchObject({
    status: 422,
    body: { errors: [{ path: 'relativeTo', problem: expect.stringMatching(/not seen by both/) }] },
  });
  expect(await compare('', A, B, 'unobtainium')).toMatchObject({
    status: 422,
    body: { errors: [{ path: 'relativeTo' }] },
  });
  expect(await compare('', A, A)).toMatchObject({ status: 422, body: { errors: [{ path: 'second' }] } });
  const early = `&from=${minutesAgo(600).toISOString()}&to=${minutesAgo(500).toISOString()}`;
  expect(await compare(early)).toMatchObject({
    status: 422,
    body: { errors: [{ path: 'from', problem: expect.stringMatching(/too few scans in the same time/) }] },
  });
  expect((await compare('', A, 's-load-1-a')).status).toBe(404);
  expect((await compare('', A, 'ghost')).status).toBe(404);
  expect(
    (await world.ask('GET', `/api/v1/chambers/nowhere/comparison?first=${A}&second=${B}&relativeTo=N2`)).status,
  ).toBe(404);
  expect((await world.ask('GET', `/api/v1/chambers/n-prep-1/comparison?first=${A}&second=${B}`)).status).toBe(400);
});
