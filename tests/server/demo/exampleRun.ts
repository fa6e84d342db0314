/**
 * The example as its alerts tell it: its scans through the real analysis, the watch and the life of alerts, as the workers
 * call them, with nothing stored. What the workers take from the database is what a new installation holds: the fleet
 * document and nothing that people have set.
 */
import { exampleFleet } from '../../../server/demo/fleet.ts';
import { HISTORY_MS, makeWorld } from '../../../server/demo/world.ts';
import type { Analyser, Chamber } from '../../../shared/contract/fleet.ts';
import type { Scan } from '../../../shared/contract/scans.ts';
import type { StandingAlert } from '../../../shared/db/alerts.ts';
import { documentCalibration } from '../../../shared/db/calibrationInForce.ts';
import { toPascal } from '../../../shared/units.ts';
import { judgeSilence } from '../../../shared/watch/silence.ts';
import { calculate } from '../../../workers/calculate.ts';
import type { ChamberContext } from '../../../workers/chamberContext.ts';
import type { BatchOutcome } from '../../../workers/outcome.ts';
import type { OutstandingScan } from '../../../workers/outstanding.ts';
import { makeScience } from '../../../workers/science.ts';
import { applyEvents } from '../../../workers/standing.ts';

const HOUR_MS = 3_600_000;
/** As the feed sends them, unless a question wants fewer: the last hours in full. */
const FULL_RECORD_HOURS = 4;

export interface ChamberRun {
  readonly chamber: string;
  readonly outcome: BatchOutcome;
  /** All that were ever raised, as they stand in the end. */
  readonly alerts: readonly StandingAlert[];
  /** Analysers of which the sweep would say that they are silent. */
  readonly silent: readonly string[];
}

export interface RunQuestion {
  readonly anchorMs: number;
  readonly untilMs: number;
  /** Before the anchor; earlier than that there is a scan in a quarter of an hour. */
  readonly fullHours?: number;
  /** Absent: the whole fleet. */
  readonly chambers?: readonly string[];
}

const fleet = exampleFleet();
const science = makeScience();

function workOf(scan: Scan): OutstandingScan {
  const at = new Date(scan.at);
  const { analyser, id, masses, unit, seconds, averages = 1, detector = null, temperatureC = null } = scan;
  return {
    analyser,
    at,
    scanId: id,
    receivedAt: at,
    reportedState: scan.state ?? null,
    before: null,
    scan: {
      analyser,
      id,
      atMs: at.getTime(),
      seconds,
      averages,
      masses: masses as NonNullable<OutstandingScan['scan']>['masses'],
      values: Float64Array.from(scan.values, (value) => value ?? Number.NaN),
      unit,
      detector,
      totalPressurePa: scan.totalPressure ? toPascal(scan.totalPressure.value, scan.totalPressure.unit) : null,
      temperatureC,
    },
  };
}

function contextOf(chamber: Chamber, analysers: readonly Analyser[]): ChamberContext {
  const { id, name = id, kind = null, volumeLitres = null, pumpingSpeedLitresPerSecond = {}, gases = [] } = chamber;
  return {
    chamber: { id, name, kind, volumeLitres, pumpingSpeedLitresPerSecond, gases },
    calibrationsOf: new Map(
      analysers.map((document) => {
        const calibration = documentCalibration({ id: document.id, version: 1, document });
        return [document.id, () => calibration];
      }),
    ),
    limits: [],
    untoldCloses: [],
    watches: new Map(),
  };
}

export async function runExample(question: RunQuestion): Promise<ChamberRun[]> {
  const { anchorMs, untilMs, chambers, fullHours = FULL_RECORD_HOURS } = question;
  const analysers = fleet.analysers.filter(({ chamber }) => chambers?.includes(chamber) ?? true);
  const scans = new Map<string, Scan[]>(analysers.map(({ id }) => [id, []]));
  const stretch = { afterMs: anchorMs - HISTORY_MS, untilMs, fullFromMs: anchorMs - fullHours * HOUR_MS };
  for (const scan of makeWorld(anchorMs).scans(stretch)) scans.get(scan.analyser)?.push(scan);
  const runs: ChamberRun[] = [];
  for (const chamber of fleet.chambers) {
    const own = analysers.filter((one) => one.chamber === chamber.id);
    if (own.length === 0) continue;
    const works = own.flatMap(({ id }) => scans.get(id) ?? []).map(workOf);
    works.sort((a, b) => a.at.getTime() - b.at.getTime() || (a.analyser < b.analyser ? -1 : 1));
    const outcome = await calculate(works, contextOf(chamber, own), science);
    const { alerts } = applyEvents(chamber.id, [], outcome.events);
    runs.push({
      chamber: chamber.id,
      outcome,
      alerts,
      silent: own.filter(isSilent(outcome, untilMs)).map(({ id }) => id),
    });
  }
  return runs;
}

const isSilent =
  ({ analysers }: BatchOutcome, nowMs: number) =>
  ({ id }: Analyser): boolean => {
    const told = analysers.find(({ analyser }) => analyser === id);
    return judgeSilence({
      lastScanAtMs: told?.newest?.work.at.getTime() ?? null,
      periodSeconds: told?.lastStep?.periodSeconds ?? null,
      state: told?.newest?.state ?? null,
      nowMs,
    }).silent;
  };
