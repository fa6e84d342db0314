/**
 * A leak that was repaired between two vents, as the product tells it: scans of the example through the real server, the
 * real analysis and the real watch. That the repair worked is known by construction: the example's leak is gone.
 */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sealRenewed } from '../../../server/demo/closedStories.ts';
import { exampleFleet } from '../../../server/demo/fleet.ts';
import { HISTORY_MS, makeWorld } from '../../../server/demo/world.ts';
import type { Alert } from '../../../shared/contract/alerts.ts';
import type { BeforeAfter } from '../../../shared/contract/beforeAfter.ts';
import { analyseChamber } from '../../../workers/analyseChamber.ts';
import { openWorkshop } from '../../../workers/openWorkshop.ts';
import { makeScience } from '../../../workers/science.ts';
import { quiet } from '../../support/services.ts';
import { openWorld, type World } from '../world.ts';

const HOUR_MS = 3_600_000;
const ANCHOR_MS = Date.UTC(2031, 0, 8, 17, 20);
const story = sealRenewed(ANCHOR_MS);

/** Three days of the whole fleet are made to pick one chamber from: a minute on a busy machine. Nothing is measured by it. */
const LONGEST_MS = 900_000;

let world: World;
let alerts: Alert[];
let compared: BeforeAfter;

beforeAll(async () => {
  world = await openWorld();
  world.at(new Date(ANCHOR_MS));
  expect((await world.ask('PUT', '/api/v1/fleet', { body: exampleFleet() })).status).toBe(200);
  const stretch = { afterMs: ANCHOR_MS - HISTORY_MS, untilMs: ANCHOR_MS, fullFromMs: ANCHOR_MS - HOUR_MS };
  const scans = [...makeWorld(ANCHOR_MS).scans(stretch)].filter(({ analyser }) => analyser === `${story.chamber}-a`);
  const sent = await world.ask('POST', '/api/v1/scans', { body: { scans } });
  expect(sent.body).toEqual({ accepted: scans.length, duplicates: 0, rejected: [] });
  const shop = openWorkshop({ database: world.db, science: makeScience(), log: quiet, stopping: () => false });
  while (await analyseChamber(shop, story.chamber));
  alerts = (await world.ask('GET', `/api/v1/alerts?chamber=${story.chamber}`)).body.alerts;
  for (const { id } of alerts) {
    const { cause = '', verified, note } = story.closed ?? {};
    const closed = await world.ask('POST', `/api/v1/alerts/${id}/close`, { body: { cause, verified, note } });
    expect(closed.status).toBe(200);
  }
  compared = (await world.ask('GET', `/api/v1/chambers/${story.chamber}/before-after`)).body;
}, LONGEST_MS);
afterAll(() => world.close());

test('one alert tells of the leak, between its beginning and the second vent, and has returned', () => {
  expect(alerts.map(({ signature }) => signature)).toEqual([story.expected]);
  const [{ raisedAt, returnedAt } = { raisedAt: '', returnedAt: null }] = alerts;
  const [, second] = story.happenings?.vents ?? [];
  expect(Date.parse(raisedAt)).toBeGreaterThan(story.sinceMs);
  expect(Date.parse(raisedAt)).toBeLessThan(second?.fromMs ?? 0);
  expect(Date.parse(returnedAt ?? '')).toBeGreaterThan(second?.toMs ?? Number.POSITIVE_INFINITY);
});

test('the comparison finds the repair by itself, both sides in base, hours long and as long after their vents', () => {
  const { before, after, between, likeness, alert } = compared;
  expect(alert?.id).toBe(alerts[0]?.id);
  expect(between).not.toBeNull();
  expect(likeness.filter(({ is }) => is !== 'alike').map(({ name }) => name)).toEqual(['temperature']);
  for (const side of [before, after]) {
    expect(side.state).toBe('base');
    expect(side.scans).toBeGreaterThanOrEqual(14);
    expect(Date.parse(side.to ?? '') - Date.parse(side.from ?? '')).toBeGreaterThan(3 * HOUR_MS);
    expect(side.sinceVent?.atLeast).toBe(false);
  }
});

test('every gas of the alert is back, and the leak that is gone is told with an interval that holds the true one', () => {
  const { verdict, gases } = compared;
  expect(verdict).toMatchObject({ word: 'worked', notBack: [], missing: [] });
  expect(verdict.back).toEqual(expect.arrayContaining(['N2', 'Ar']));
  const truth = (hours: number, gas: 'N2' | 'Ar') =>
    makeWorld(ANCHOR_MS)
      .chambers.get(story.chamber)
      ?.momentAt(ANCHOR_MS - hours * HOUR_MS).partialPa[gas] ?? Number.NaN;
  for (const gas of ['N2', 'Ar'] as const) {
    const row = gases.find((one) => one.gas === gas);
    const ratio = truth(13, gas) / truth(41, gas);
    expect(row?.ratioLow).toBeLessThan(ratio);
    expect(row?.ratioHigh).toBeGreaterThan(ratio);
  }
});

test('what people wrote lies within the story and says what was found', () => {
  const [first, second] = story.happenings?.vents ?? [];
  const [cleaned, found] = story.notes ?? [];
  for (const [note, vent] of [
    [cleaned, first],
    [found, second],
  ] as const) {
    expect(note?.atMs).toBeGreaterThanOrEqual(vent?.fromMs ?? Number.NaN);
    expect(note?.atMs).toBeLessThan(vent?.toMs ?? Number.NaN);
  }
});
