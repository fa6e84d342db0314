/** The two sides of a before-and-after: which they are, and what their scans say. */
import type { OperatingState } from '../../shared/contract/words.ts';
import { type ComparedScanRow, readSideScans } from '../../shared/db/compared.ts';
import { readMeasurement } from '../../shared/db/measurement.ts';
import type { SameMeasure } from '../../shared/measurement/changeFactor.ts';
import { type ByGas, byGas, type SensitivityError } from '../../shared/measurement/gasSeries.ts';
import { type GasSide, type Moment, sideOf } from '../../shared/measurement/gasSide.ts';
import { type SideFacts, sameCalibration } from '../../shared/measurement/likeness.ts';
import { medianOf } from '../../shared/measurement/robustMean.ts';
import { type Stretch, sinceVent } from '../../shared/measurement/stretches.ts';
import type { Deps } from '../deps.ts';

/** Newer ones of a side are taken; more would hold up other requests for too long. */
export const MOST_SIDE_SCANS = 2000;

export interface AskedSide {
  readonly chamber: string;
  readonly analyser: string;
  /** Null: there is no such time. */
  readonly span: { readonly from: Date; readonly to: Date } | null;
  /** Undefined: the one that most of its scans are in. */
  readonly state: OperatingState | undefined;
  /** Of gases that may move; undefined: they are taken as settled. */
  readonly moment: Moment | undefined;
}

export interface KnownSide extends SideFacts {
  readonly state: OperatingState | null;
  readonly from: Date | null;
  readonly to: Date | null;
  readonly middleMs: number;
  /** The scan that stands for the others where one is drawn. */
  readonly scanAt: Date | null;
  readonly gases: ReadonlyMap<string, GasSide>;
  /** More scans lie in its span than were taken. */
  readonly cut: boolean;
}

/** What most of the scans are. */
const commonest = (scans: readonly ComparedScanRow[]): OperatingState | null => {
  const counts = new Map<OperatingState, number>();
  for (const { state } of scans) counts.set(state, (counts.get(state) ?? 0) + 1);
  return [...counts].sort(([, a], [, b]) => b - a)[0]?.[0] ?? null;
};

const measureOf = ({ calibrationVersion, catalogueVersion, detector }: ComparedScanRow): string =>
  [calibrationVersion, catalogueVersion, ...(detector === null ? [] : [detector])].join(', ');

type Errors = Readonly<Record<string, SensitivityError>>;

const gasesOf = (all: ByGas, errors: Errors | null, moment: Moment | undefined) =>
  new Map([...all].map(([gas, looked]) => [gas, sideOf(looked, errors?.[gas], moment)]));

export const readSide = async ({ db }: Deps, asked: AskedSide, stretches: readonly Stretch[]): Promise<KnownSide> => {
  const { chamber, analyser, span, state, moment } = asked;
  const found =
    span === null ? [] : await readSideScans(db.sql, { chamber, analyser, ...span, state, most: MOST_SIDE_SCANS });
  const measured =
    found.length === 0 ? null : await readMeasurement(db.sql, { analyser, at: found.at(-1)?.at ?? new Date(0) });
  const inState = state ?? commonest(found);
  const scans = found.filter((one) => one.state === inState);
  const [from, to] = [scans[0]?.at ?? span?.from ?? null, scans.at(-1)?.at ?? span?.to ?? null];
  const middleMs = ((from?.getTime() ?? 0) + (to?.getTime() ?? 0)) / 2;
  const temperatures = scans.flatMap(({ temperatureC }) => (temperatureC === null ? [] : [temperatureC]));
  return {
    analyser,
    state: inState,
    from,
    to,
    middleMs,
    scanAt: scans[moment === 'newest' ? scans.length - 1 : scans.length >> 1]?.at ?? null,
    sinceVent: from === null ? null : sinceVent(stretches, middleMs),
    temperatureC: temperatures.length === 0 ? null : medianOf(temperatures),
    calibrations: [...new Set(scans.map(measureOf))].sort(),
    scans: scans.length,
    gases: gasesOf(
      byGas(scans.map(({ at, gases }) => ({ atMs: at.getTime(), gases }))),
      measured?.measurement?.sensitivityErrors ?? null,
      moment,
    ),
    cut: found.length === MOST_SIDE_SCANS,
  };
};

export const measureBetween = (before: KnownSide, after: KnownSide): SameMeasure => {
  if (before.analyser !== after.analyser) return 'other analyser';
  return sameCalibration(before, after) ? 'same' : 'other calibration';
};
