/** A baseline from a period that an engineer chose: learned here, proposed to the engineer, never put in force by itself. */
import { setImmediate as breathe } from 'node:timers/promises';
import type { Sql } from 'postgres';
import type { AnalysisScan, Calibration, InstrumentMemory } from '../shared/analysis/types.ts';
import type { InnerTask } from '../shared/contract/calibration.ts';
import { packMemory } from '../shared/db/memory.ts';
import { type PinRow, proposePin, readPin } from '../shared/db/pins.ts';
import type { PinOutcome, PinRequest } from '../shared/watch/pins.ts';
import type { WatchInput } from '../shared/watch/types.ts';
import type { Workshop } from './analyseChamber.ts';
import { readCalibrationHistory } from './calibrationHistory.ts';
import { readScansBefore, readScansOfState } from './storedScans.ts';
import { readChamberGases } from './taskContext.ts';
import { type Ending, endTask, type WaitingTask } from './taskRows.ts';

/** More add little to a median; of a longer period every so many scans are taken. About a second and a half of work. */
const MOST_SCANS = 1_000;
/** Their values, in the memory of the worker. */
const MOST_BYTES = 64 * 1024 * 1024;
/** Noise and mass scale of the analyser have settled by then. */
const RUN_IN = { limit: 100, bytes: 8 * 1024 * 1024 };
const LONGEST_STRETCH_MS = 50;

type Request = Extract<InnerTask, { kind: 'baseline' }>;

interface Ground {
  readonly calibration: Calibration;
  readonly gases: readonly string[];
}

/** A scan that the analysis cannot bear is left out. */
const analysed = async (
  shop: Workshop,
  { calibration, gases }: Ground,
  scans: readonly AnalysisScan[],
  before: InstrumentMemory | null,
): Promise<{ inputs: WatchInput[]; memory: InstrumentMemory | null }> => {
  const analyser = shop.science.analyserFor(calibration, gases);
  const inputs: WatchInput[] = [];
  let memory = before;
  let stretchBegan = performance.now();
  for (const scan of scans) {
    try {
      const { peaks, analysis, instrument } = analyser.analyse(scan, memory);
      memory = instrument;
      inputs.push({ scan, peaks, analysis });
    } catch {
      continue;
    }
    if (performance.now() - stretchBegan > LONGEST_STRETCH_MS) {
      await breathe();
      stretchBegan = performance.now();
    }
  }
  return { inputs, memory };
};

/**
 * Alerts that this analyser had standing in the period. Silence is no gas, and one that a person has found to be false
 * is no reason either.
 */
const readAlerts = async (sql: Sql, { chamber, analyser, scansFrom, scansTo }: PinRow) => {
  const rows = await sql<{ signature: string; from: Date; until: Date | null }[]>`
    select signature, raised_at as "from", coalesce(returned_at, closed_at) as "until" from alerts
    where chamber = ${chamber} and coalesce(analyser, ${analyser}) = ${analyser} and signature <> 'silent'
      and verified is distinct from 'false-alert' and raised_at <= ${scansTo}
      and coalesce(returned_at, closed_at, ${scansTo}) >= ${scansFrom}
    order by raised_at`;
  return rows.map(({ signature, from, until }) => ({
    signature,
    fromMs: from.getTime(),
    untilMs: until?.getTime() ?? null,
  }));
};

const refused = (reason: string): Extract<PinOutcome, { kind: 'refused' }> => ({
  kind: 'refused',
  code: 'no-scans',
  reason,
});

const learn = async (shop: Workshop, pin: PinRow): Promise<PinOutcome> => {
  const { sql } = shop.database;
  const { chamber, analyser, operatingState: state, scansFrom: from, scansTo: to } = pin;
  const period = { chamber, analyser, from, to };
  const [history, gases, alertsInPeriod, scans, earlier] = await Promise.all([
    readCalibrationHistory(shop, analyser),
    readChamberGases(sql, chamber),
    readAlerts(sql, pin),
    readScansOfState(sql, period, { state, most: MOST_SCANS, bytes: MOST_BYTES }),
    readScansBefore(sql, period, RUN_IN),
  ]);
  if (history === null) return refused('The fleet does not know this analyser any more.');
  if (scans.length === 0) return refused(`The period holds no scans in ${state}.`);
  // With what is in force now: the scans that it will be compared with are read with the same.
  const calibration = history.at(Math.max(pin.setAt.getTime(), to.getTime()));
  const ground = { calibration, gases };
  const { memory } = await analysed(shop, ground, earlier, null);
  const { inputs } = await analysed(shop, ground, scans, memory);
  const request: PinRequest = { state, calibration, inputs, alertsInPeriod };
  return shop.science.learnPinned(request);
};

const endingOf = (outcome: PinOutcome): Ending =>
  outcome.kind === 'learned' ? { ok: true, scans: outcome.scans } : { ok: false, problem: outcome.reason };

export const workOutPin = async (shop: Workshop, task: WaitingTask, request: Request): Promise<void> => {
  const pin = await readPin(shop.database.sql, request.pin);
  const outcome: PinOutcome =
    pin === null || pin.state !== 'waiting' ? refused('The pin was withdrawn meanwhile.') : await learn(shop, pin);
  await shop.database.transaction(async (tx) => {
    await endTask(tx, task, endingOf(outcome));
    if (outcome.kind === 'refused') return;
    const { baseline, scans, view } = outcome;
    await proposePin(tx, request.pin, { baseline: packMemory(baseline), scans });
    await tx`
      update tasks set result = ${tx.json(view as never)} where chamber = ${task.chamber} and id = ${task.id}`;
  });
};
