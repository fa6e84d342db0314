/**
 * What the people of the example wrote before the reader came: notes at moments of a chamber's life, what they hand over,
 * and the rounds of their shift. The server dates a signature itself, so the rounds bear the time at which the example was
 * set up, and say so.
 */
import type { ChamberNote } from '../../shared/contract/chamberNotes.ts';
import type { HandoverEntry } from '../../shared/contract/handover.ts';
import type { SignedRoundLine } from '../../shared/contract/round.ts';
import type { Bench } from './calibrate.ts';
import { told } from './closeCases.ts';
import { EAST_BAY } from './eastBay.ts';
import { HERON_LINE } from './heronLine.ts';
import { EARLY, LATE, type Person } from './people.ts';
import type { StoryEntry, StoryNote } from './story.ts';

interface ShiftRound {
  readonly area: string;
  readonly by: Person;
  readonly note: string;
  /** Who has taken over; absent: it waits for whoever reads it. */
  readonly takenOver?: { readonly by: Person; readonly note: string };
}

const SIGNED_AT_SET_UP = 'Stands for the shift before yours; signed when the example was set up.';

const ROUNDS: readonly ShiftRound[] = [
  {
    area: EAST_BAY,
    by: EARLY,
    note: `${SIGNED_AT_SET_UP} Nothing goes into the evaporator before the oil is judged. Etcher north runs on with its purge valve leaking by. Nitride deposition is tight again.`,
    takenOver: { by: LATE, note: 'Taken over. I look at the evaporator first.' },
  },
  {
    area: HERON_LINE,
    by: EARLY,
    note: `${SIGNED_AT_SET_UP} The exit slit cannot be seen until its gateway is back. Air came up in the sample stage towards the end of the shift.`,
  },
];

const iso = (ms: number): string => new Date(ms).toISOString();

export async function writeShiftBook(bench: Bench): Promise<void> {
  for (const { chamber, notes = [], handedOver = [] } of bench.stories) {
    for (const note of notes) await writeNote(bench, chamber, note);
    for (const entry of handedOver) await handOver(bench, chamber, entry);
  }
  if (await allIsTold(bench)) for (const round of ROUNDS) await sign(bench, round);
}

async function writeNote({ server, adminToken, tokenOf }: Bench, chamber: string, note: StoryNote): Promise<void> {
  const path = `/api/v1/chambers/${chamber}/notes`;
  const at = iso(note.atMs);
  const span = `from=${at}&to=${iso(note.atMs + 1000)}`;
  const { notes } = await server.ask<{ notes: readonly ChamberNote[] }>({
    method: 'GET',
    path: `${path}?${span}`,
    token: adminToken,
  });
  if (notes.some(({ text }) => text === note.text)) return;
  const body = { at, text: note.text };
  await server.ask({ method: 'POST', path, token: await tokenOf(note.by), body });
}

async function handOver(bench: Bench, chamber: string, { by, kind, text, dueMs }: StoryEntry): Promise<void> {
  const { server, adminToken, tokenOf, anchorMs, now } = bench;
  const { entries } = await server.ask<{ entries: readonly HandoverEntry[] }>({
    method: 'GET',
    path: `/api/v1/handover/entries?chamber=${chamber}`,
    token: adminToken,
  });
  // Open from an earlier telling it still stands; what people have closed since then stays closed.
  if (entries.some((one) => one.text === text && (one.doneAt === null || Date.parse(one.at) >= anchorMs))) return;
  const due = dueMs !== undefined && dueMs > now() ? { dueAt: iso(dueMs) } : {};
  const body = { kind, chamber, text, ...due };
  await server.ask({ method: 'POST', path: '/api/v1/handover/entries', token: await tokenOf(by), body });
}

/** A round that was signed before the watch has caught up would make old alerts look new to the next shift. */
async function allIsTold(bench: Bench): Promise<boolean> {
  for (const story of bench.stories) {
    if (story.expected === null || (await told(bench, story, () => true))) continue;
    bench.log(`${story.title}: its alert was not raised in time; the rounds are left to a person`);
    return false;
  }
  return true;
}

async function sign({ server, adminToken, tokenOf, anchorMs }: Bench, round: ShiftRound): Promise<void> {
  const { area, by, note, takenOver } = round;
  const { rounds } = await server.ask<{ rounds: readonly SignedRoundLine[] }>({
    method: 'GET',
    path: `/api/v1/rounds?area=${area}`,
    token: adminToken,
  });
  if (rounds.some(({ at }) => Date.parse(at) >= anchorMs)) return;
  const { id } = await server.ask<{ id: string }>({
    method: 'POST',
    path: '/api/v1/round/sign',
    token: await tokenOf(by),
    body: { area, note },
  });
  if (!takenOver) return;
  const path = `/api/v1/round/${id}/countersign`;
  await server.ask({ method: 'POST', path, token: await tokenOf(takenOver.by), body: { note: takenOver.note } });
}
