/** Real server, real database: what the people of the example write is read back as any page reads it. */
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { callStaff, EARLY, LATE } from '../../../server/demo/people.ts';
import { writeShiftBook } from '../../../server/demo/shiftBook.ts';
import { storiesFrom } from '../../../server/demo/stories.ts';
import type { HandoverEntry, Handovers } from '../../../shared/contract/handover.ts';
import type { SignedRoundDetail, SignedRoundLine } from '../../../shared/contract/round.ts';
import { putAlert } from '../world.ts';
import { type Door, openDoor } from './door.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const ANCHOR_MS = Date.UTC(2031, 0, 8, 6, 0);
const stories = storiesFrom(ANCHOR_MS);

let door: Door;
let nowMs: number;
const lines: string[] = [];

beforeAll(async () => {
  door = await openDoor();
});
afterAll(() => door.close());
beforeEach(async () => {
  await door.world.db.sql`truncate alerts, alert_moves, rounds, handover_entries, chamber_notes`;
  lines.length = 0;
  at(ANCHOR_MS + 2 * MINUTE_MS);
});

const at = (ms: number) => {
  nowMs = ms;
  door.world.at(new Date(ms));
};
const get = async <T>(path: string): Promise<T> => (await door.world.ask('GET', path)).body as T;
const rounds = async () => (await get<{ rounds: SignedRoundLine[] }>('/api/v1/rounds')).rounds;
const entries = async () => (await get<{ entries: HandoverEntry[] }>('/api/v1/handover/entries')).entries;

const raiseAll = async () => {
  for (const { chamber, expected, sinceMs } of stories)
    if (expected)
      await putAlert(door.world, { id: chamber, chamber, signature: expected, raisedAt: new Date(sinceMs) });
};
const write = async (now = () => nowMs) => {
  const staff = await callStaff(door);
  const { signal } = new AbortController();
  const log = (line: string) => void lines.push(line);
  await writeShiftBook({ ...door, tokenOf: staff.tokenOf, anchorMs: ANCHOR_MS, stories, now, signal, log });
  await staff.leave();
};

test('a round of each area is signed; the one that was taken over bears two names, the other waits for the reader', async () => {
  await raiseAll();
  await write();
  const signed = await rounds();
  expect(signed.map(({ area }) => area).sort()).toEqual(['east-bay', 'heron-line']);
  expect(new Set(signed.map(({ by }) => by))).toEqual(new Set([EARLY.name]));
  expect(signed.filter(({ countersigned }) => countersigned).map((one) => [one.area, one.countersigned?.by])).toEqual([
    ['east-bay', LATE.name],
  ]);
  for (const { note, at: signedAt } of signed) {
    expect(note).toContain('signed when the example was set up');
    expect(Date.parse(signedAt)).toBe(nowMs);
  }
  expect(lines).toEqual([]);
});

test('the signed handover holds a promise, a piece of work and a watch item, each of its chamber', async () => {
  await raiseAll();
  await write();
  const open = await entries();
  expect(open.map(({ kind }) => kind).sort()).toEqual(['promise', 'watch', 'work']);
  const told = new Map(
    stories.flatMap(({ chamber, handedOver = [] }) => handedOver.map(({ text }) => [text, chamber])),
  );
  for (const { chamber, text } of open) expect(chamber).toBe(told.get(text));
  const due = open.find(({ kind }) => kind === 'promise')?.dueAt;
  expect(Date.parse(due ?? '')).toBe(ANCHOR_MS + 6 * HOUR_MS);
  const handovers = await Promise.all(
    (await rounds()).map(async ({ id }) => (await get<SignedRoundDetail>(`/api/v1/rounds/${id}`)).handover),
  );
  const handedOver = handovers.flatMap((one) => [
    ...(one?.work ?? []),
    ...(one?.promises ?? []),
    ...(one?.watch ?? []),
  ]);
  expect(handedOver).toHaveLength(open.length);
  expect(handovers.flatMap((one) => one?.open ?? [])).toHaveLength(stories.filter(({ expected }) => expected).length);
});

test('notes stand at their moments, under the names of those who wrote them', async () => {
  await raiseAll();
  await write();
  for (const { chamber, notes = [] } of stories) {
    for (const { atMs, text, by } of notes) {
      const span = `from=${new Date(atMs - MINUTE_MS).toISOString()}&to=${new Date(atMs + MINUTE_MS).toISOString()}`;
      const found = await get<{ notes: { at: string; text: string; madeBy: string }[] }>(
        `/api/v1/chambers/${chamber}/notes?${span}`,
      );
      expect(found.notes).toMatchObject([{ at: new Date(atMs).toISOString(), text, madeBy: by.name }]);
    }
  }
});

test('a restart writes nothing twice, and does not open again what a person has closed', async () => {
  await raiseAll();
  await write();
  const [first] = await entries();
  await door.world.ask('POST', `/api/v1/handover/entries/${first?.id}/close`, { body: {} });
  const before = [await rounds(), await entries()];
  at(ANCHOR_MS + 30 * HOUR_MS);
  await write();
  expect([await rounds(), await entries()]).toEqual(before);
});

test('a promise whose time has passed before it could be written has none', async () => {
  await raiseAll();
  at(ANCHOR_MS + 7 * HOUR_MS);
  await write();
  expect((await entries()).find(({ kind }) => kind === 'promise')?.dueAt).toBeNull();
});

test('the rounds are left to a person while the watch has not told every story', async () => {
  let clock = nowMs;
  await write(() => {
    clock += 200_000;
    return clock;
  });
  expect(await rounds()).toEqual([]);
  expect(lines[0]).toContain('left to a person');
  const { areas } = await get<Handovers>('/api/v1/round/handover');
  expect(areas.flatMap(({ promises }) => promises)).toHaveLength(1);
});
