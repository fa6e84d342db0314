/** Patterns and backgrounds from scans that a person marked: worked out here, proposed to an engineer. */
import { createHash } from 'node:crypto';
import type { AnalysisScan, Calibration } from '../shared/analysis/types.ts';
import type { NewTask } from '../shared/contract/calibration.ts';
import { MOST_MARKED_SCANS } from '../shared/db/tasks.ts';
import type { Workshop } from './analyseChamber.ts';
import { readCalibrationHistory } from './calibrationHistory.ts';
import { countScans, type Period, readScans } from './storedScans.ts';
import { readChamberGases, readHome } from './taskContext.ts';
import type { Ending, Proposal, WaitingTask } from './taskRows.ts';

/** Their values, in the memory of the worker. */
const MARKED_BYTES = 64 * 1024 * 1024;

type Request<K extends NewTask['kind']> = Extract<NewTask, { kind: K }>;

/** The marked scans of one analyser with the calibration in force when they began. */
interface Marked {
  readonly scans: readonly AnalysisScan[];
  readonly calibration: Calibration;
}

const failed = (problem: string): Ending => ({ ok: false, problem });

/** Follows from the task: whoever works it out writes the same. */
export const proposalId = (task: string): string =>
  `cal-${createHash('sha256').update(`calibration of task ${task}`).digest('hex').slice(0, 16)}`;

/** @returns the scans, or why they cannot be used */
const readMarked = async (shop: Workshop, period: Period): Promise<Marked | string> => {
  const { sql } = shop.database;
  const { analyser } = period;
  const [count, history] = await Promise.all([countScans(sql, period), readCalibrationHistory(shop, analyser)]);
  if (history === null) return `The fleet does not know the analyser ${analyser}.`;
  if (count === 0) return `The period holds no scans of ${analyser}.`;
  if (count > MOST_MARKED_SCANS)
    return `The period holds ${count} scans of ${analyser}: mark at most ${MOST_MARKED_SCANS}.`;
  const scans = await readScans(sql, period, { after: null, limit: MOST_MARKED_SCANS, bytes: MARKED_BYTES });
  if (scans.length < count)
    return `The scans of ${analyser} in this period are too large together: mark at most ${scans.length}.`;
  return { scans, calibration: history.at((scans[0] as AnalysisScan).atMs) };
};

const periodOf = (task: WaitingTask, { from, to }: { from: string; to: string }): Period => ({
  chamber: task.chamber,
  analyser: task.analyser,
  from: new Date(from),
  to: new Date(to),
});

/** The person's own words, then what the calculation has to say of its result. */
const noteOf = (note: string, remarks: readonly string[]): string => [note, ...remarks].join('\n');

type Found = Pick<Proposal, 'kind' | 'gas' | 'value' | 'source' | 'note'>;

const proposed = (task: WaitingTask, scans: readonly AnalysisScan[], found: Found): Ending => {
  const instant = (scan: AnalysisScan | undefined) => (scan ? new Date(scan.atMs) : null);
  return {
    ok: true,
    scans: scans.length,
    proposal: {
      ...found,
      id: proposalId(task.id),
      scansFrom: instant(scans[0]),
      scansTo: instant(scans.at(-1)),
      scanCount: scans.length,
    },
  };
};

export const workOutPattern = async (
  shop: Workshop,
  task: WaitingTask,
  request: Request<'pattern'>,
): Promise<Ending> => {
  const marked = await readMarked(shop, periodOf(task, request));
  if (typeof marked === 'string') return failed(marked);
  const gases = await readChamberGases(shop.database.sql, task.chamber);
  const answer = shop.science.marked.pattern({ ...marked, ...request, gases });
  if (!answer.ok) return failed(answer.problem);
  const { pattern, remarks } = answer;
  const note = noteOf(request.note, remarks);
  return proposed(task, marked.scans, { kind: 'pattern', gas: pattern.gas, value: pattern, source: 'pure gas', note });
};

export const workOutBackground = async (
  shop: Workshop,
  task: WaitingTask,
  request: Request<'background'>,
): Promise<Ending> => {
  const { sql } = shop.database;
  const period = periodOf(task, request);
  const marked = await readMarked(shop, period);
  if (typeof marked === 'string') return failed(marked);
  const other = request.source === 'second analyser' ? await readOther(shop, task, { request, period }) : null;
  if (typeof other === 'string') return failed(other);
  const gases = await readChamberGases(sql, task.chamber);
  const answer = shop.science.marked.background({ ...marked, other, gases });
  if (!answer.ok) return failed(answer.problem);
  const note = noteOf(request.note, answer.remarks);
  const { background: value } = answer;
  return proposed(task, marked.scans, { kind: 'background', gas: null, value, source: request.source, note });
};

/** The analyser that is trusted, which must look into the same chamber. */
const readOther = async (
  shop: Workshop,
  task: WaitingTask,
  asked: { request: Request<'background'>; period: Period },
): Promise<Marked | string> => {
  const { other } = asked.request;
  if (other === undefined) return 'No second analyser was named.';
  if (other === task.analyser) return 'An analyser cannot be compared with itself.';
  const home = await readHome(shop.database.sql, other);
  if (home === null) return `The fleet does not know the analyser ${other}.`;
  if (home !== task.chamber) return `${other} belongs to another chamber, and sees another gas.`;
  return await readMarked(shop, { ...asked.period, analyser: other });
};
