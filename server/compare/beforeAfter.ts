/** One chamber before and after a repair. */
import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import type { Chamber } from '../../shared/contract/fleet.ts';
import type { Note } from '../../shared/contract/readings.ts';
import type { OperatingState, PressureUnit } from '../../shared/contract/words.ts';
import { type RepairAlert, readGasAlerts, readStates, readUsual } from '../../shared/db/compared.ts';
import { readMeasurements } from '../../shared/db/measurement.ts';
import { firstAnalyserWithData } from '../../shared/db/series.ts';
import { newestReading } from '../../shared/db/ticketFacts.ts';
import type { BetweenSides } from '../../shared/measurement/changeFactor.ts';
import type { Moment } from '../../shared/measurement/gasSide.ts';
import { likenesses } from '../../shared/measurement/likeness.ts';
import { repairVerdict } from '../../shared/measurement/repairVerdict.ts';
import { chooseSides, type SideChoice } from '../../shared/measurement/sideChoice.ts';
import { type Stretch, stretchesOf } from '../../shared/measurement/stretches.ts';
import { findAnalyser } from '../analysers.ts';
import type { Deps } from '../deps.ts';
import { impossible, notFound } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { plain } from '../present.ts';
import type { Span } from '../span.ts';
import { alertPlaces, gasRows, leakOf } from './gases.ts';
import { type KnownSide, MOST_SIDE_SCANS, measureBetween, readSide } from './sides.ts';

export interface AskedBeforeAfter {
  readonly chamber: string;
  /** Undefined: the newest whose repair can be looked at; empty: none is meant. */
  readonly alert: string | undefined;
  readonly analyser: string | undefined;
  readonly afterAnalyser: string | undefined;
  readonly before: Span | null;
  readonly after: Span | null;
  readonly unit: PressureUnit;
}

/** As many as a person would look through. */
const MOST_ALERTS = 12;

/** When other alerts of the chamber stood that are about a gas of this one. */
const loudFor = (alert: RepairAlert, alerts: readonly RepairAlert[], newestMs: number) =>
  alerts
    .filter((one) => one.id !== alert.id && one.gases.some((gas) => alert.gases.includes(gas)))
    .map(({ raisedAt, endedAt }) => ({ fromMs: raisedAt.getTime(), toMs: endedAt?.getTime() ?? newestMs }));

interface OnRecord {
  readonly alerts: readonly RepairAlert[];
  readonly stretches: readonly Stretch[];
  readonly newestMs: number;
  readonly scanSeconds: number | null;
}

const choiceFor = (alert: RepairAlert | null, { alerts, stretches, newestMs, scanSeconds }: OnRecord): SideChoice =>
  chooseSides({
    stretches,
    alert: alert && { raisedMs: alert.raisedAt.getTime(), endedMs: alert.endedAt?.getTime() ?? null },
    newestMs,
    loud: alert === null ? [] : loudFor(alert, alerts, newestMs),
    scanSeconds,
  });

interface Chosen {
  readonly alert: RepairAlert | null;
  readonly choice: SideChoice;
}

const chosen = (
  asked: AskedBeforeAfter,
  alerts: readonly RepairAlert[],
  choose: (one: RepairAlert | null) => SideChoice,
): Chosen => {
  if (asked.alert === '') return { alert: null, choice: choose(null) };
  if (asked.alert !== undefined) {
    const alert = alerts.find(({ id }) => id === asked.alert);
    if (!alert) throw impossible('alert', `chamber ${asked.chamber} has no alert ${asked.alert} that is about gases`);
    return { alert, choice: choose(alert) };
  }
  const tried = alerts.map((alert) => ({ alert, choice: choose(alert) }));
  // A repair between two vents is what the page is for; then whatever can be set against anything, the newest first.
  const repaired = tried.find(({ choice }) => choice.purpose === 'repair' && choice.between !== null && choice.after);
  const any = tried.find(({ choice }) => choice.before !== null && choice.after !== null);
  return repaired ?? any ?? tried[0] ?? { alert: null, choice: choose(null) };
};

const analyserOf = async (deps: Deps, asked: AskedBeforeAfter, wanted: string | undefined, otherwise: string) => {
  if (wanted === undefined) return otherwise;
  const known = await findAnalyser(deps, wanted);
  if (known.chamber !== asked.chamber) throw notFound(`Chamber ${asked.chamber} has no analyser ${wanted}.`);
  return wanted;
};

const spanOf = (span: { fromMs: number; toMs: number } | null): Span | null =>
  span && { from: new Date(span.fromMs), to: new Date(span.toMs) };

const sidePresented = (side: KnownSide): BeforeAfter['before'] => ({
  from: isoOrNull(side.from),
  to: isoOrNull(side.to),
  analyser: side.analyser,
  state: side.state,
  sinceVent: side.sinceVent && { seconds: Math.round(side.sinceVent.seconds), atLeast: side.sinceVent.atLeast },
  temperatureC: plain(side.temperatureC),
  calibrations: [...side.calibrations],
  scans: side.scans,
  scanAt: isoOrNull(side.scanAt),
});

const notesOf = (before: KnownSide, after: KnownSide, between: BetweenSides): Note[] => {
  const notes: Note[] = [];
  if (before.cut || after.cut)
    notes.push({ code: 'newest-scans', text: `Of each side the newest ${MOST_SIDE_SCANS} scans are taken.` });
  if (between.measure !== 'same')
    notes.push({
      code: 'sensitivity-stays',
      text: 'The two sides were not measured with the same calibration: their sensitivities do not cancel, and the intervals are wider for it.',
    });
  return notes;
};

export async function beforeAfter(deps: Deps, asked: AskedBeforeAfter, document: Chamber): Promise<BeforeAfter> {
  const { chamber, unit } = asked;
  const { sql } = deps.db;
  const alerts = await readGasAlerts(sql, chamber, MOST_ALERTS);
  const fallback = asked.analyser ?? alerts[0]?.analyser ?? (await firstAnalyserWithData(sql, chamber));
  if (fallback === null || fallback === undefined) throw impossible('analyser', `chamber ${chamber} has no analyser`);
  const newest = (await newestReading(sql, chamber, fallback)) ?? deps.now();
  const rows = await readStates(sql, chamber, deps.now());
  const stretches = stretchesOf(
    rows.map(({ at, state }) => ({ atMs: at.getTime(), state })),
    newest.getTime(),
  );
  const [known] = await readMeasurements(sql, { analyser: fallback, at: newest });
  const record = { alerts, stretches, newestMs: newest.getTime(), scanSeconds: known?.scanPeriodSeconds ?? null };
  const { alert, choice } = chosen(asked, alerts, (one) => choiceFor(one, record));
  const analyser = await analyserOf(deps, asked, asked.analyser, alert?.analyser ?? fallback);
  const afterAnalyser = await analyserOf(deps, asked, asked.afterAnalyser, analyser);
  // Of a repair the settled levels are compared. While an alert stands its gases may move, and what counts is where they
  // are by now; the time before it is a quiet one, and its middle is known best.
  const standing = choice.purpose === 'since alert';
  const side = (given: Span | null, found: SideChoice['before'], id: string, moment: Moment) =>
    readSide(
      deps,
      {
        chamber,
        analyser: id,
        span: given ?? spanOf(found),
        state: given === null ? ((choice.state ?? undefined) as OperatingState | undefined) : undefined,
        moment: standing ? moment : undefined,
      },
      stretches,
    );
  const before = await side(asked.before, choice.before, analyser, 'middle');
  const after = await side(asked.after, choice.after, afterAnalyser, 'newest');
  const between: BetweenSides = {
    measure: measureBetween(before, after),
    seconds: (after.middleMs - before.middleMs) / 1000,
  };
  const usual =
    before.state === null || before.state !== after.state
      ? null
      : await readUsual(sql, { chamber, analyser: after.analyser, state: after.state });
  const question = { before, after, between, usual, alertGases: alert?.gases ?? [] };
  const likeness = likenesses(before, after);
  const verdict = repairVerdict({
    gases: alert && alertPlaces(question),
    scans: { before: before.scans, after: after.scans },
    likeness,
    measure: between.measure,
    usualIsOlder: usual === null || before.from === null || usual.since <= before.from,
    noRepairYet: standing,
  });
  return {
    chamber,
    unit,
    alert: alert && {
      id: alert.id,
      signature: alert.signature,
      summary: alert.summary,
      gases: [...alert.gases],
      raisedAt: iso(alert.raisedAt),
      endedAt: isoOrNull(alert.endedAt),
    },
    alerts: alerts.map(({ id, summary, raisedAt }) => ({ id, summary, raisedAt: iso(raisedAt) })),
    between: choice.between && {
      from: iso(new Date(choice.between.fromMs)),
      to: iso(new Date(choice.between.pumpedMs)),
    },
    before: sidePresented(before),
    after: sidePresented(after),
    likeness: (Object.keys(likeness) as (keyof typeof likeness)[]).map((name) => ({ name, is: likeness[name] })),
    gases: gasRows(question, unit),
    leak:
      alert?.signature === 'air-leak' && choice.purpose === 'repair'
        ? leakOf(question, document.pumpingSpeedLitresPerSecond ?? {})
        : null,
    verdict: {
      word: verdict.word,
      back: [...verdict.back],
      notBack: [...verdict.notBack],
      missing: verdict.missing.map(({ what, gases }) => ({ what, gases: [...gases] })),
      equalAt: choice.equalAtMs === null ? null : iso(new Date(choice.equalAtMs)),
    },
    notes: notesOf(before, after, between),
  };
}
