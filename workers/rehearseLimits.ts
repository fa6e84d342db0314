/**
 * Limits of a chamber over its stored readings, twice: those in force and the changed ones. The code that judges limits
 * is the live one, with the state rules around it; what the readings do not hold comes from the alerts of the time:
 * while scans were frozen or pascal meant nothing, no limit was judged.
 */
import type { Sql } from 'postgres';
import type { RehearsedAlert } from '../shared/contract/rehearsal.ts';
import type { Signature } from '../shared/contract/words.ts';
import { unpackEstimates } from '../shared/db/codec.ts';
import { judgeLimits } from '../shared/watch/limits.ts';
import { draftOf, emptyMemory, type Memory, sealed } from '../shared/watch/memory.ts';
import { governed } from '../shared/watch/rules.ts';
import { forget } from '../shared/watch/standing.ts';
import { LIMIT_STATES } from '../shared/watch/states.ts';
import { advanceClock, changeState, isEarly } from '../shared/watch/timeline.ts';
import type { WatchContext, WatchMemory } from '../shared/watch/types.ts';
import type { Close } from './rehearsalGround.ts';
import { withClose, withEvent } from './rehearsedAlerts.ts';
import type { After, Period } from './storedScans.ts';

const PIECE_READINGS = 1_000;

/** A span in which no limit was judged. */
export interface Held {
  readonly signature: Signature;
  readonly fromMs: number;
  /** First instant that is judged again; null: it still stands. */
  readonly untilMs: number | null;
}

export type LimitsTold = Omit<WatchContext, 'closedByPerson'>;

export interface LimitsGround {
  readonly period: Period;
  readonly asIs: LimitsTold;
  readonly asChanged: LimitsTold;
  readonly closes: readonly Close[];
  readonly held: readonly Held[];
}

interface Run {
  readonly memory: WatchMemory | null;
  readonly alerts: readonly RehearsedAlert[];
}

export interface LimitsCarried {
  readonly [key: string]: unknown;
  /** Time of the newest reading that counts; null: none yet. */
  readonly judgedToMs: number | null;
  readonly asIs: Run;
  readonly asChanged: Run;
}

const NOTHING: LimitsCarried = {
  judgedToMs: null,
  asIs: { memory: null, alerts: [] },
  asChanged: { memory: null, alerts: [] },
};

interface ReadingRow {
  at: Date;
  scanId: string;
  state: string;
  gases: string[];
  estimates: Buffer | null;
  detected: Buffer | null;
  judged: boolean;
}

const readReadings = (sql: Sql, { chamber, analyser, from, to }: Period, after: After | null) => sql<ReadingRow[]>`
  select r.at, r.scan_id as "scanId", r.state, g.gases, r.estimates, r.detected, r.judged
  from readings r join gas_lists g on g.id = r.gas_list
  where r.chamber = ${chamber} and r.analyser = ${analyser} and r.at between ${from} and ${to}
    ${after === null ? sql`` : sql`and (r.at, r.scan_id) > (${after.at}, ${after.scanId})`}
  order by r.at, r.scan_id limit ${PIECE_READINGS}`;

interface Given {
  readonly told: LimitsTold;
  readonly reading: ReadingRow;
  readonly closes: readonly Close[];
  readonly held: boolean;
}

const judge = (m: Memory, { told, reading, closes, held }: Given) => {
  const atMs = reading.at.getTime();
  const context = { ...told, closedByPerson: closes.map(({ signature }) => signature) };
  forget(m, context.closedByPerson);
  advanceClock(m, atMs);
  changeState(m, reading.state, atMs);
  m.scans++;
  m.lastAtMs = atMs;
  const judged = LIMIT_STATES.has(m.state) && !isEarly(m, atMs) && !held && reading.estimates !== null;
  if (!judged) return [];
  const gases = unpackEstimates(reading.gases, reading.estimates, reading.detected);
  return governed(m, context, judgeLimits(m, context, gases, atMs));
};

const next = (run: Run, given: Given): Run => {
  const { reading, told, closes } = given;
  const fresh = () => emptyMemory(told.calibration.version, reading.state, reading.at.getTime());
  const memory = draftOf(run.memory) ?? fresh();
  const alerts = judge(memory, given).reduce(withEvent, closes.reduce(withClose, run.alerts));
  return { memory: sealed(memory), alerts };
};

const isHeld = (held: readonly Held[], atMs: number): boolean =>
  held.some(({ fromMs, untilMs }) => fromMs <= atMs && (untilMs === null || atMs < untilMs));

/** @returns null when there is nothing left of the period */
export const rehearseLimits = async (
  sql: Sql,
  ground: LimitsGround,
  from: { readonly after: After | null; readonly carried: LimitsCarried | null },
): Promise<{ carried: LimitsCarried; place: After; scans: number } | null> => {
  const readings = await readReadings(sql, ground.period, from.after);
  let { asIs, asChanged, judgedToMs } = from.carried ?? NOTHING;
  for (const reading of readings) {
    const atMs = reading.at.getTime();
    const sinceMs = judgedToMs ?? Number.NEGATIVE_INFINITY;
    if (!reading.judged || atMs <= sinceMs) continue;
    const closes = ground.closes.filter((close) => close.atMs > sinceMs && close.atMs <= atMs);
    const given = { reading, closes, held: isHeld(ground.held, atMs) };
    asIs = next(asIs, { ...given, told: ground.asIs });
    asChanged = next(asChanged, { ...given, told: ground.asChanged });
    judgedToMs = atMs;
  }
  const last = readings.at(-1);
  return last ? { carried: { judgedToMs, asIs, asChanged }, place: last, scans: readings.length } : null;
};
