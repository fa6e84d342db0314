/** Everything that one ticket says, gathered once, so that its files agree with each other. */

import { resolveGas } from '../../shared/catalogue/select.ts';
import type { Alert, AlertMove } from '../../shared/contract/alerts.ts';
import type { ChamberNote } from '../../shared/contract/chamberNotes.ts';
import type { Trend } from '../../shared/contract/readings.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { type AlertRow, readAlert, readMoves } from '../../shared/db/alertLists.ts';
import {
  alertsOfSpan,
  countReadings,
  newestReading,
  nthReading,
  readScanFacts,
  type ScanFacts,
} from '../../shared/db/ticketFacts.ts';
import type { Deps } from '../deps.ts';
import { impossible, notFound } from '../errors.ts';
import { presentAlert, presentMove } from '../presentAlert.ts';
import { readSite } from '../site.ts';
import { readSpan, type Span } from '../span.ts';
import { analyserOf, DEFAULT_POINTS, gasesOf, readTrend } from '../trend.ts';
import { calibrationsOf, type TicketCalibration } from './calibrations.ts';
import { notesOf } from './notes.ts';

export type AlertWithMoves = Alert & { moves: AlertMove[] };

export interface TicketFacts {
  site: string;
  version: string;
  chamber: { id: string; name: string; area: string; areaName: string; timeZone: string; kind: string | null };
  analyser: string;
  span: Span;
  unit: PressureUnit;
  gases: readonly string[];
  trend: Trend;
  scans: readonly ScanFacts[];
  /** What people had put in force for these readings, in the order of its validity. */
  calibrations: readonly TicketCalibration[];
  /** The alert that the ticket is about; null: the chamber as such. */
  alert: AlertWithMoves | null;
  /** All that stood in the span. */
  alerts: readonly AlertWithMoves[];
  /** What people noted at moments of the span, oldest first. */
  notes: readonly ChamberNote[];
}

export interface TicketQuestion {
  chamber: string;
  from?: string;
  to?: string;
  gases?: string;
  alert?: string;
  analyser?: string;
  unit: PressureUnit;
}

/** What a ticket system takes as an attachment, and a person opens in a spreadsheet. */
const MOST_SCANS = 50_000;
/** How a chamber was before an alert is half of what a ticket has to show. */
const BEFORE_ALERT_MS = 6 * 3_600_000;

const withMoves = async (deps: Deps, row: AlertRow): Promise<AlertWithMoves> => {
  const moves = await readMoves(deps.db.sql, row);
  return { ...presentAlert(row), moves: moves.map(presentMove) };
};

const askedAlert = async (deps: Deps, { chamber, alert }: TicketQuestion): Promise<AlertRow | null> => {
  if (alert === undefined) return null;
  const row = await readAlert(deps.db.sql, alert);
  if (row === null || row.chamber !== chamber) throw notFound(`Chamber ${chamber} has no alert ${alert}.`);
  return row;
};

/**
 * The span as asked. What is left out follows from the data, not from the clock: it ends with the end of the alert or
 * the newest scan, and begins six hours before the alert or a day before the end.
 */
const spanOf = async (
  deps: Deps,
  question: TicketQuestion,
  about: { analyser: string; alert: AlertRow | null },
): Promise<Span> => {
  const { analyser, alert } = about;
  const endedMs = alert ? (alert.life.closed?.atMs ?? alert.life.returnedAtMs) : null;
  const newest = await newestReading(deps.db.sql, question.chamber, analyser);
  const end = endedMs === null ? (newest ?? deps.now()) : new Date(endedMs);
  const span = readSpan(question, end);
  if (question.from !== undefined || alert === null) return span;
  const from = new Date(Math.min(alert.life.raisedAtMs - BEFORE_ALERT_MS, span.to.getTime() - 1));
  if (question.to !== undefined) return { from, to: span.to };
  // An alert that stands for weeks: how it began is what a ticket shows, with as much after it as a ticket holds.
  const place = { chamber: question.chamber, analyser, from, to: span.to };
  return { from, to: (await nthReading(deps.db.sql, place, MOST_SCANS)) ?? span.to };
};

/** As asked; else the gases of the alert first, then the usual ones. */
const ticketGases = (asked: string | undefined, alert: AlertRow | null): string[] => {
  if (asked !== undefined) return gasesOf(asked);
  const own = (alert?.gases ?? []).map(resolveGas).filter((gas) => gas !== null);
  return [...new Set([...own, ...gasesOf(undefined)])];
};

interface Place {
  name: string;
  kind: string | null;
  area: string;
  areaName: string | null;
  timeZone: string | null;
}

export const gatherTicket = async (deps: Deps, question: TicketQuestion): Promise<TicketFacts> => {
  const { sql } = deps.db;
  const { chamber, unit } = question;
  const [place] = await sql<Place[]>`
    select c.name, c.kind, c.area, a.name as "areaName", a.time_zone as "timeZone"
    from chambers c left join areas a on a.id = c.area where c.id = ${chamber}`;
  if (!place) throw notFound(`There is no chamber ${chamber}.`);
  const alert = await askedAlert(deps, question);
  const analyser = await analyserOf(deps, chamber, question.analyser ?? alert?.analyser ?? undefined);
  const span = await spanOf(deps, question, { analyser, alert });
  const series = { chamber, analyser, from: span.from, to: span.to };
  const count = await countReadings(sql, series);
  if (count > MOST_SCANS)
    throw impossible(
      'from',
      `the span holds ${count} scans; a ticket holds at most ${MOST_SCANS}, so ask for a shorter one`,
    );
  const gases = ticketGases(question.gases, alert);
  const [{ site }, trend, scans, ids, notes] = await Promise.all([
    readSite(deps),
    readTrend(deps, { chamber, analyser, gases: gases.join(','), span, points: DEFAULT_POINTS, unit, until: span.to }),
    readScanFacts(sql, series),
    alertsOfSpan(sql, series),
    notesOf(deps, chamber, span),
  ]);
  const rows = await Promise.all(ids.map((id) => readAlert(sql, id)));
  const alerts = await Promise.all(rows.flatMap((row) => (row === null ? [] : [withMoves(deps, row)])));
  return {
    site: site.name,
    version: deps.version,
    chamber: {
      id: chamber,
      name: place.name,
      area: place.area,
      areaName: place.areaName ?? place.area,
      timeZone: place.timeZone ?? 'UTC',
      kind: place.kind,
    },
    analyser,
    span,
    unit,
    gases,
    trend,
    scans,
    calibrations: await calibrationsOf(deps, analyser, scans),
    alert: alert === null ? null : await withMoves(deps, alert),
    alerts,
    notes,
  };
};
