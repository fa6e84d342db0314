/**
 * Analyses the stored scans of a period again, beside the readings that were judged.
 *
 * It goes from scan to scan in time order with a memory of the analyser that begins empty some scans before the period,
 * so that the first readings know noise and mass scale as those beside them do. It is done in pieces, each in one
 * transaction with the place it has come to and that memory, so that a process which is killed loses one piece, and
 * what comes out is the same.
 */
import { setImmediate as breathe } from 'node:timers/promises';
import type { AnalysisScan, Calibration, InstrumentMemory, ScanAnalysis } from '../shared/analysis/types.ts';
import type { NewTask } from '../shared/contract/calibration.ts';
import { packMemory, unpackInstrument } from '../shared/db/memory.ts';
import { MOST_RECOMPUTED_SCANS } from '../shared/db/tasks.ts';
import type { Workshop } from './analyseChamber.ts';
import { readCalibrationHistory } from './calibrationHistory.ts';
import type { Note } from './outcome.ts';
import { countScans, type Period, readScans, readScansBefore } from './storedScans.ts';
import { readChamberGases } from './taskContext.ts';
import { finishTask, type WaitingTask } from './taskRows.ts';
import { writeRecomputed } from './writeRecomputed.ts';

const PIECE_SCANS = 200;
/** Noise, mass scale and the usual heights have settled by then; a gain from a pair of detectors may be older. */
const RUN_IN_SCANS = 200;
const PIECE_BYTES = 8 * 1024 * 1024;
/** Longest stretch of mathematics before timers, signals and the queue get their turn. */
const LONGEST_STRETCH_MS = 50;

type Recomputation = Extract<NewTask, { kind: 'recomputation' }>;

/** What every piece of one recomputation rests on. */
interface Ground {
  readonly calibrationAt: (atMs: number) => Calibration;
  readonly gases: readonly string[];
  /** Names all of it. */
  readonly basis: string;
}

/** One scan analysed again. */
export interface Recomputed {
  readonly scan: AnalysisScan;
  /** Null: no answer, `notes` says why. */
  readonly analysis: ScanAnalysis | null;
  readonly notes: readonly Note[];
  readonly calibrationVersion: string;
}

const periodOf = ({ chamber, analyser }: WaitingTask, { from, to }: Recomputation): Period => ({
  chamber,
  analyser,
  from: new Date(from),
  to: new Date(to),
});

const readGround = async (shop: Workshop, task: WaitingTask, request: Recomputation): Promise<Ground | null> => {
  const { sql } = shop.database;
  const [history, gases] = await Promise.all([
    readCalibrationHistory(shop, task.analyser),
    readChamberGases(sql, task.chamber),
  ]);
  if (history === null) return null;
  const [fromMs, toMs] = [Date.parse(request.from), Date.parse(request.to)];
  const fixed = request.calibrationOf === undefined ? null : history.at(Date.parse(request.calibrationOf));
  const turns = [fromMs, ...history.turnsMs.filter((turn) => turn > fromMs && turn <= toMs).sort((a, b) => a - b)];
  const versions = fixed ? [fixed.version] : turns.map((turn) => `${turn}:${history.at(turn).version}`);
  return {
    calibrationAt: (atMs) => fixed ?? history.at(atMs),
    gases,
    basis: [shop.science.catalogueVersion, gases.join(), ...versions].join(' '),
  };
};

/** @returns why the work cannot begin or go on; null: it can */
const obstacle = async (shop: Workshop, task: WaitingTask, ground: Ground, period: Period): Promise<string | null> => {
  if (task.basis !== null) {
    return task.basis === ground.basis
      ? null
      : 'The calibration, the catalogue or the gases of the chamber changed while this was being worked out. Ask again.';
  }
  const scans = await countScans(shop.database.sql, period);
  if (scans === 0) return 'The period holds no scans of this analyser.';
  if (scans > MOST_RECOMPUTED_SCANS)
    return `The period holds ${scans} scans; at most ${MOST_RECOMPUTED_SCANS} are recomputed at once. Ask for a shorter one.`;
  return null;
};

/** Analyses one piece, in time order. A scan that the analysis cannot bear is stored without an answer. */
const workThrough = async (
  shop: Workshop,
  ground: Ground,
  piece: { scans: readonly AnalysisScan[]; memory: InstrumentMemory | null },
) => {
  const recomputed: Recomputed[] = [];
  let { memory } = piece;
  let stretchBegan = performance.now();
  for (const scan of piece.scans) {
    const calibration = ground.calibrationAt(scan.atMs);
    const calibrationVersion = calibration.version;
    try {
      const answer = shop.science.analyserFor(calibration, ground.gases).analyse(scan, memory);
      memory = answer.instrument;
      recomputed.push({ scan, analysis: answer.analysis, notes: answer.analysis.notes, calibrationVersion });
    } catch (error) {
      const text = `The analysis of this scan failed: ${error instanceof Error ? error.message : String(error)}`;
      recomputed.push({ scan, analysis: null, notes: [{ code: 'analysis-failed', text }], calibrationVersion });
    }
    if (performance.now() - stretchBegan > LONGEST_STRETCH_MS) {
      await breathe();
      stretchBegan = performance.now();
    }
  }
  return { recomputed, memory };
};

/** What the analysis remembers when the piece begins. */
const memoryBefore = async (shop: Workshop, task: WaitingTask, ground: Ground, period: Period) => {
  if (task.doneTo !== null) return task.instrument && unpackInstrument(task.instrument);
  const bounds = { limit: RUN_IN_SCANS, bytes: PIECE_BYTES };
  const scans = await readScansBefore(shop.database.sql, period, bounds);
  return (await workThrough(shop, ground, { scans, memory: null })).memory;
};

/** One piece of it. */
export const recomputePiece = async (shop: Workshop, task: WaitingTask, request: Recomputation): Promise<void> => {
  const period = periodOf(task, request);
  const ground = await readGround(shop, task, request);
  const problem =
    ground === null ? 'The fleet does not know this analyser any more.' : await obstacle(shop, task, ground, period);
  if (ground === null || problem !== null) {
    await finishTask(shop.database, task, { ok: false, problem: problem as string });
    return;
  }
  const after = task.doneTo && task.doneScan !== null ? { at: task.doneTo, scanId: task.doneScan } : null;
  const scans = await readScans(shop.database.sql, period, { after, limit: PIECE_SCANS, bytes: PIECE_BYTES });
  if (scans.length === 0) {
    await finishTask(shop.database, task, { ok: true, scans: task.scans ?? 0 });
    return;
  }
  const memory = await memoryBefore(shop, task, ground, period);
  const piece = await workThrough(shop, ground, { scans, memory });
  await writeRecomputed(shop, task, {
    recomputed: piece.recomputed,
    basis: ground.basis,
    instrument: piece.memory && packMemory(piece.memory),
  });
};
