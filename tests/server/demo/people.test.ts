/** Real server, real tokens. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { callStaff, EARLY, ENGINEER } from '../../../server/demo/people.ts';
import { type Door, openDoor } from './door.ts';

let door: Door;
beforeAll(async () => {
  door = await openDoor();
});
afterAll(() => door.close());

const names = async () =>
  ((await door.world.ask('GET', '/api/v1/tokens')).body.tokens as { name: string }[]).map(({ name }) => name);

test('nobody comes in before there is something to do', async () => {
  const staff = await callStaff(door);
  expect(await names()).toEqual([]);
  await staff.leave();
});

test('a person acts under the own name and role, with one token until they leave', async () => {
  const staff = await callStaff(door);
  const token = await staff.tokenOf(EARLY);
  expect(await staff.tokenOf(EARLY)).toBe(token);
  const { body } = await door.world.ask('GET', '/api/v1/session', { token });
  expect(body.who).toMatchObject({ name: EARLY.name, role: EARLY.role });
  await staff.leave();
  expect((await door.world.ask('GET', '/api/v1/round', { token })).status).toBe(401);
});

test('what an interrupted start has left behind is put away, and nothing else', async () => {
  await (await callStaff(door)).tokenOf(ENGINEER);
  await door.world.ask('POST', '/api/v1/tokens', { body: { name: 'north gateway', role: 'gateway' } });
  await callStaff(door);
  expect(await names()).toEqual(['north gateway']);
});

test('the first account stays the reader’s', async () => {
  const { body } = await door.world.ask('GET', '/api/v1/session', { token: null });
  expect(body.needsSetUp).toBe(true);
});
