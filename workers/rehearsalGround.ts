/** What one chamber of a rehearsal rests on: its period, the settings in force and the changed ones. */
import { createHash } from 'node:crypto';
import type { Sql } from 'postgres';
import type { Calibration } from '../shared/analysis/types.ts';
import { MOST_REHEARSED_DAYS, type RehearsedChange } from '../shared/contract/rehearsal.ts';
import type { Signature } from '../shared/contract/words.ts';
import { readPin, readPinContents, readPinsEverInForce } from '../shared/db/pins.ts';
import type { RehearsalRow } from '../shared/db/rehearsals.ts';
import type { BaselinePin } from '../shared/watch/types.ts';
import type { Workshop } from './analyseChamber.ts';
import { readCalibrationHistory } from './calibrationHistory.ts';
import { readTold } from './chamberContext.ts';
import { changedRules } from './rehearsedRules.ts';
import type { Told } from './rehearseScans.ts';
import type { Period } from './storedScans.ts';
import type { WaitingTask } from './taskRows.ts';

const DAY_MS = 86_400_000;
/** The following baseline forgets within five days, and has its pinned reference after three. */
const LEAD_IN_MS = 7 * DAY_MS;
/** At least so many, where scans are rare: as many as a recomputation reads before its period. */
const LEAD_IN_SCANS = 200;

/** What a person has closed: the watch forgets that it had raised it. */
export interface Close {
  readonly signature: Signature;
  readonly atMs: number;
}

/** How the past is worked through: from the readings, from the scans, or from the alerts that there were. */
export type Way = 'readings' | 'scans' | 'alerts';

export interface Ground {
  readonly way: Way;
  /** With the lead-in. */
  readonly period: Period;
  readonly countedFromMs: number;
  readonly asIs: Told;
  readonly asChanged: Told;
  readonly closes: readonly Close[];
  readonly calibrationAt: (atMs: number) => Calibration;
  readonly notes: readonly string[];
  /** Names all of it: a rehearsal may not go on with other settings than it began with. */
  readonly basis: string;
}

interface Span {
  readonly from: Date;
  readonly to: Date;
  readonly leadFrom: Date;
}

type Whose = Pick<WaitingTask, 'chamber' | 'analyser'>;

/** The days that end with the newest scan that there was when it was asked, and where the lead-in begins. */
const readSpan = async (sql: Sql, { chamber, analyser }: Whose, row: RehearsalRow): Promise<Span | null> => {
  const [ends] = await sql<{ first: Date | null; last: Date | null }[]>`
    select
      (select at from scans where chamber = ${chamber} and analyser = ${analyser} order by at limit 1) as first,
      (select at from scans where chamber = ${chamber} and analyser = ${analyser} and at <= ${row.askedAt}
        order by at desc limit 1) as last`;
  if (!ends?.first || !ends.last) return null;
  const { first, last: to } = ends;
  const asked = to.getTime() - (row.request.days ?? MOST_REHEARSED_DAYS) * DAY_MS;
  const from = new Date(Math.max(asked, first.getTime()));
  const [earlier] = await sql<{ at: Date }[]>`
    select at from scans where chamber = ${chamber} and analyser = ${analyser} and at < ${from}
    order by at desc offset ${LEAD_IN_SCANS - 1} limit 1`;
  const lead = Math.min(from.getTime() - LEAD_IN_MS, earlier?.at.getTime() ?? first.getTime());
  return { from, to, leadFrom: new Date(Math.max(first.getTime(), lead)) };
};

const readCloses = (sql: Sql, { chamber, analyser }: Whose, { leadFrom, to }: Span) => sql<Close[]>`
  select signature, (extract(epoch from closed_at) * 1000)::float8 as "atMs" from alerts
  where chamber = ${chamber} and coalesce(analyser, ${analyser}) = ${analyser}
    and closed_at between ${leadFrom} and ${to} order by closed_at, id`;

/** @returns the changed settings, or why they cannot be tried */
const changedTold = async (
  { database: { sql } }: Workshop,
  change: RehearsedChange,
  { told, task, fromMs }: { told: Told; task: Whose; fromMs: number },
): Promise<{ way: Way; asChanged: Told } | string> => {
  if (change.kind === 'limits') {
    const limits = change.limits.map(({ gas, limitPa, priority }) => ({ gas, limitPa, priority }));
    return { way: 'readings', asChanged: { ...told, limits } };
  }
  if (change.kind === 'rationalisation') {
    const { rules, replay } = await changedRules(sql, told.chamber.kind, change);
    const { rules: _before, ...others } = told;
    return { way: replay ? 'scans' : 'alerts', asChanged: { ...others, ...(rules.length > 0 ? { rules } : {}) } };
  }
  const pin = await readPin(sql, change.pin);
  const [content] = await readPinContents(sql, task.chamber, [change.pin]);
  if (!pin || !content) return 'This pinned baseline has not been worked out.';
  // As if it had been put in force when the rehearsal begins to count.
  const asRehearsed: BaselinePin = { ...content, validFromMs: fromMs };
  const others = (told.pins ?? []).filter(({ state }) => state !== pin.operatingState);
  const pins = [...others, asRehearsed].sort((a, b) => a.validFromMs - b.validFromMs);
  return { way: 'scans', asChanged: { ...told, pins } };
};

/** What limits are judged by does not know of spectra. */
const namesOf = ({ pins, examples, ...told }: Told, way: Way) => ({
  ...told,
  pins: way === 'scans' ? pins?.map(({ id, validFromMs }) => [id, validFromMs]) : [],
  examples: way === 'scans' ? examples?.map(({ id }) => id) : [],
});

const iso = (date: Date): string => date.toISOString();

const notesOf = async (sql: Sql, { chamber, analyser }: Whose, span: Span, way: Way): Promise<string[]> => {
  const [others] = await sql<{ n: number }[]>`
    select count(*)::int as n from analysers where chamber = ${chamber} and id <> ${analyser} and retired_at is null`;
  const lead = way === 'scans' && span.leadFrom < span.from;
  return [
    ...(lead
      ? [`Read from ${iso(span.leadFrom)} on, so that what is usual is learned; counted from ${iso(span.from)}.`]
      : []),
    ...(way !== 'alerts' && (others?.n ?? 0) > 0 ? [`As ${analyser} sees it; the chamber has other analysers.`] : []),
    ...(way === 'alerts'
      ? [
          'This change moves no threshold: the alerts are those that there were. How often one asks again follows from when people acknowledge it, and is not counted.',
        ]
      : []),
  ];
};

/** @returns why it cannot be rehearsed, where it cannot */
export const readGround = async (shop: Workshop, task: WaitingTask, row: RehearsalRow): Promise<Ground | string> => {
  const { sql } = shop.database;
  const { chamber, analyser } = task;
  const history = await readCalibrationHistory(shop, analyser);
  if (history === null) return 'The fleet does not know this analyser any more.';
  const span = await readSpan(sql, task, row);
  if (span === null) return 'There are no scans of this chamber.';
  const [chamberTold, pins, closes] = await Promise.all([
    readTold(sql, { chamber, examples: shop.examples }),
    readPinsEverInForce(sql, { chamber, analyser }),
    readCloses(sql, task, span),
  ]);
  const asIs: Told = { ...chamberTold, ...(pins.length > 0 ? { pins } : {}) };
  const fromMs = span.from.getTime();
  const changed = await changedTold(shop, row.request.change, { told: asIs, task, fromMs });
  if (typeof changed === 'string') return changed;
  const { way, asChanged } = changed;
  const from = way === 'scans' ? span.leadFrom : span.from;
  const turns = [
    from.getTime(),
    ...history.turnsMs.filter((turn) => turn > from.getTime() && turn <= span.to.getTime()),
  ];
  const versions = turns.map((turn) => [turn, history.at(turn).version]);
  const settings = [shop.science.catalogueVersion, versions, namesOf(asIs, way), namesOf(asChanged, way), row.request];
  return {
    way,
    period: { chamber, analyser, from, to: span.to },
    countedFromMs: fromMs,
    asIs,
    asChanged,
    closes,
    calibrationAt: history.at,
    notes: await notesOf(sql, task, span, way),
    basis: createHash('sha256').update(JSON.stringify(settings)).digest('hex'),
  };
};
