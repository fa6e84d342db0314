/** One analyser in a line: how well it measures just now. */
import type { Calibration, InstrumentView, Measurement } from '../../shared/analysis/types.ts';
import type { Kappa, MeasurementLine } from '../../shared/contract/measurement.ts';
import type { Static } from '../../shared/contract/schema.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import type { MeasurementFacts } from '../../shared/db/measurement.ts';
import { iso, isoOrNull } from '../instant.ts';
import { plain, pressure, rounded } from '../present.ts';
import type { Beside } from './beside.ts';
import { decadesAt, floorAt } from './detection.ts';
import { remarkOf } from './remark.ts';

export interface Shown {
  readonly facts: MeasurementFacts;
  readonly beside: Beside | null;
  /** In force now. */
  readonly calibration: Calibration;
  readonly multiple: number;
  readonly unit: PressureUnit;
  readonly now: Date;
}

/** One-sided 95 % of a normal distribution. */
const ONE_SIDED_95 = 1.645;
const DAY_MS = 86_400_000;

export const at = (ms: number): string => iso(new Date(ms));

export const kappaOf = (now: number | null, known: InstrumentView['kappa']): Static<typeof Kappa> | null => {
  if (known === null)
    return now === null
      ? null
      : { now: plain(now), usual: null, low: null, high: null, scans: 0, since: null, steady: false };
  const { usual, spread, scans, sinceMs, steady } = known;
  const low = plain(usual * Math.exp(-ONE_SIDED_95 * spread));
  const high = plain(usual * Math.exp(ONE_SIDED_95 * spread));
  return { now: plain(now), usual: plain(usual), low, high, scans, since: at(sinceMs), steady };
};

/** What the newest scan used; a Faraday scan uses none, and then what was last measured. */
export const gainNow = (
  measurement: Pick<Measurement, 'gain'> | null,
  instrument: Pick<InstrumentView, 'gain'> | null,
): Measurement['gain'] => {
  if (measurement?.gain) return measurement.gain;
  return instrument?.gain ? { ...instrument.gain, from: 'pair' } : null;
};

export const measurementLine = ({ facts, beside, calibration, multiple, unit, now }: Shown): MeasurementLine => {
  const { measurement, instrument, calibratedAt } = facts;
  const gain = gainNow(measurement, instrument);
  return {
    analyser: facts.analyser,
    chamber: facts.chamber,
    chamberName: facts.chamberName,
    area: facts.area,
    principle: calibration.principle,
    at: isoOrNull(facts.at),
    state: facts.state,
    detector: measurement?.detector ?? null,
    responseSeconds: plain(measurement?.responseSeconds),
    floor: facts.floorPa === null ? null : pressure(floorAt(facts.floorPa, multiple), unit),
    decades: facts.decades === null ? null : plain(decadesAt(facts.decades, multiple)),
    kappa: kappaOf(facts.kappa, instrument?.kappa ?? null),
    massOffset: plain(measurement?.massScale?.offsetU),
    width: plain(measurement?.widthU?.half),
    gain: gain && {
      value: rounded(gain.value),
      at: gain.atMs === null ? null : at(gain.atMs),
      onRecord: calibration.multiplierGain,
    },
    calibrationAgeDays: calibratedAt === null ? null : rounded((now.getTime() - calibratedAt.getTime()) / DAY_MS),
    unexplained: plain(facts.unexplained),
    chiSquarePerDof: plain(measurement?.chiSquarePerDof),
    remark: remarkOf({ facts, beside, calibration, now }),
  };
};
