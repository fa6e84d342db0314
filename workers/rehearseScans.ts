/**
 * A chamber's past through the live watch twice: with the settings in force and with the changed ones. The scans are
 * analysed once. It goes from piece to piece with both memories, so that a process which is killed loses one piece, and
 * what comes out is the same.
 */
import { setImmediate as breathe } from 'node:timers/promises';
import type { AnalysisScan, Calibration, InstrumentMemory } from '../shared/analysis/types.ts';
import type { RehearsedAlert } from '../shared/contract/rehearsal.ts';
import type { WatchContext, WatchInput, WatchMemory, WatchStep } from '../shared/watch/types.ts';
import type { Workshop } from './analyseChamber.ts';
import type { Close } from './rehearsalGround.ts';
import { withClose, withEvent } from './rehearsedAlerts.ts';
import { readJudgedScans } from './storedScans.ts';

/** Of one piece: their mathematics takes a fifth of a second or less. */
const PIECE_SCANS = 100;
const PIECE_BYTES = 8 * 1024 * 1024;
/** A piece ends after this long, wherever it is. */
const LONGEST_PIECE_MS = 200;
/** Longest stretch of mathematics before timers, signals and the queue get their turn. */
const LONGEST_STRETCH_MS = 50;

export type Told = Omit<WatchContext, 'calibration' | 'closedByPerson'>;

export interface ScansGround {
  readonly period: Parameters<typeof readJudgedScans>[1];
  readonly calibrationAt: (atMs: number) => Calibration;
  readonly gases: readonly string[];
  readonly asIs: Told;
  readonly asChanged: Told;
  /** What people closed in the period, oldest first. */
  readonly closes: readonly Close[];
}

/** One of the two runs. */
export interface Run {
  readonly memory: WatchMemory | null;
  readonly alerts: readonly RehearsedAlert[];
}

export interface ScansCarried {
  readonly [key: string]: unknown;
  readonly instrument: InstrumentMemory | null;
  /** Time of the newest scan that went through the watch; null: none yet. */
  readonly judgedToMs: number | null;
  readonly asIs: Run;
  readonly asChanged: Run;
  /** Why a pinned baseline of the changed settings was not taken over; null: it was, or there is none. */
  readonly refused: string | null;
}

const NOTHING: ScansCarried = {
  instrument: null,
  judgedToMs: null,
  asIs: { memory: null, alerts: [] },
  asChanged: { memory: null, alerts: [] },
  refused: null,
};

interface Given {
  readonly told: Told;
  readonly calibration: Calibration;
  readonly closes: readonly Close[];
  readonly input: WatchInput;
}

const next = (shop: Workshop, run: Run, { told, calibration, closes, input }: Given): [Run, WatchStep | null] => {
  const closedByPerson = closes.map(({ signature }) => signature);
  try {
    const step = shop.science.watchScan(run.memory, { ...told, calibration, closedByPerson }, input);
    const alerts = step.events.reduce(withEvent, closes.reduce(withClose, run.alerts));
    return [{ memory: step.memory, alerts }, step];
  } catch {
    // As live: a scan that the watch cannot bear moves no alert.
    return [run, null];
  }
};

const PIN_REFUSED = 'pin-refused';

const judgeOne = (shop: Workshop, ground: ScansGround, before: ScansCarried, scan: AnalysisScan): ScansCarried => {
  if (before.judgedToMs !== null && scan.atMs <= before.judgedToMs) return before;
  const calibration = ground.calibrationAt(scan.atMs);
  let answer: ReturnType<ReturnType<Workshop['science']['analyserFor']>['analyse']>;
  try {
    answer = shop.science.analyserFor(calibration, ground.gases).analyse(scan, before.instrument);
  } catch {
    return before;
  }
  const since = before.judgedToMs ?? Number.NEGATIVE_INFINITY;
  const closes = ground.closes.filter(({ atMs }) => atMs > since && atMs <= scan.atMs);
  const input = { scan, peaks: answer.peaks, analysis: answer.analysis };
  const [asIs, judged] = next(shop, before.asIs, { told: ground.asIs, calibration, closes, input });
  const [asChanged, changed] = next(shop, before.asChanged, { told: ground.asChanged, calibration, closes, input });
  if (judged === null) return { ...before, asChanged };
  const refused = before.refused ?? refusalOf(judged, changed);
  return { instrument: answer.instrument, judgedToMs: scan.atMs, asIs, asChanged, refused };
};

/** A refusal that only the changed settings meet. */
const refusalOf = (asIs: WatchStep, asChanged: WatchStep | null): string | null => {
  const known = new Set(asIs.notes.map(({ text }) => text));
  return asChanged?.notes.find(({ code, text }) => code === PIN_REFUSED && !known.has(text))?.text ?? null;
};

/** @returns null when there is nothing left of the period */
export const rehearseScans = async (
  shop: Workshop,
  ground: ScansGround,
  from: { readonly after: { at: Date; scanId: string } | null; readonly carried: ScansCarried | null },
): Promise<{ carried: ScansCarried; place: { at: Date; scanId: string }; scans: number } | null> => {
  const asked = { after: from.after, limit: PIECE_SCANS, bytes: PIECE_BYTES };
  const stored = await readJudgedScans(shop.database.sql, ground.period, asked);
  let carried = from.carried ?? NOTHING;
  let place = null;
  let scans = 0;
  const began = performance.now();
  let stretchBegan = began;
  for (const { scan, judged } of stored) {
    if (judged) carried = judgeOne(shop, ground, carried, scan);
    place = { at: new Date(scan.atMs), scanId: scan.id };
    scans++;
    const now = performance.now();
    if (now - began > LONGEST_PIECE_MS) break;
    if (now - stretchBegan > LONGEST_STRETCH_MS) {
      await breathe();
      stretchBegan = performance.now();
    }
  }
  return place && { carried, place, scans };
};
