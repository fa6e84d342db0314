/**
 * The peaks of an earlier scan, for a person who looks at it: only those of the newest scan are kept. The scan is
 * analysed again with the calibration of its time and a memory of the analyser that begins empty some scans before it,
 * so that noise and mass scale are known as they were; the reading that was judged stays what it is.
 */
import { setImmediate as breathe } from 'node:timers/promises';
import type { AnalysisScan, InstrumentMemory } from '../shared/analysis/types.ts';
import type { InnerTask } from '../shared/contract/calibration.ts';
import { readUsualPeaks, type WorkedSpectrum } from '../shared/db/scanSpectra.ts';
import type { Workshop } from './analyseChamber.ts';
import { readCalibrationHistory } from './calibrationHistory.ts';
import { peaksOf } from './readingRows.ts';
import { readScanBeside, readScansBefore } from './storedScans.ts';
import { readChamberGases } from './taskContext.ts';
import { type Ending, endTask, type WaitingTask } from './taskRows.ts';

type Request = Extract<InnerTask, { kind: 'spectrum' }>;

/** Noise and mass scale have settled well enough for a look; a person waits for it. */
const RUN_IN = { limit: 30, bytes: 4 * 1024 * 1024 };

type Worked =
  | { readonly ok: true; readonly spectrum: WorkedSpectrum }
  | { readonly ok: false; readonly problem: string };

const failed = (problem: string): Worked => ({ ok: false, problem });

const workOut = async (shop: Workshop, { chamber, analyser }: WaitingTask, at: Date): Promise<Worked> => {
  const { sql } = shop.database;
  const [scan, history, gases, earlier] = await Promise.all([
    readScanBeside(sql, { chamber, analyser, instant: at, side: 'before' }),
    readCalibrationHistory(shop, analyser),
    readChamberGases(sql, chamber),
    readScansBefore(sql, { chamber, analyser, from: at, to: at }, RUN_IN),
  ]);
  if (history === null) return failed('The fleet does not know this analyser any more.');
  if (scan === null || scan.atMs !== at.getTime()) return failed('There is no such scan any more.');
  const analysed = (one: AnalysisScan, memory: InstrumentMemory | null) =>
    shop.science.analyserFor(history.at(one.atMs), gases).analyse(one, memory);
  let memory: InstrumentMemory | null = null;
  for (const one of earlier) {
    memory = analysed(one, memory).instrument;
    await breathe();
  }
  const { analysis } = analysed(scan, memory);
  if (analysis.peaks.length === 0) return failed('This scan gave no peaks; its reading says why.');
  const usual = await readUsualPeaks(sql, { chamber, analyser, state: scan.state });
  const { id: scanId, seconds, averages, detector } = scan;
  const spectrum = {
    floorPa: analysis.floorPa,
    calibrationVersion: history.at(scan.atMs).version,
    catalogueVersion: shop.science.catalogueVersion,
    spectrum: { scanId, seconds, averages, detector, peaks: peaksOf(analysis, usual) },
  };
  return { ok: true, spectrum };
};

const endingOf = (worked: Worked): Ending => (worked.ok ? { ok: true, scans: 1 } : worked);

export const workOutSpectrum = async (shop: Workshop, task: WaitingTask, request: Request): Promise<void> => {
  const worked = await workOut(shop, task, new Date(request.at));
  await shop.database.transaction(async (tx) => {
    await endTask(tx, task, endingOf(worked));
    if (!worked.ok) return;
    await tx`
      update tasks set result = ${tx.json(worked.spectrum as never)}
      where chamber = ${task.chamber} and id = ${task.id}`;
  });
};
