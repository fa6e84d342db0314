/** Which calibration holds for a scan: the fleet document, with what people have put in force laid over it. */
import type { Background, Calibration, LearnedPattern } from '../analysis/types.ts';
import type { BackgroundValue, NumberValue, PatternValue } from '../contract/calibration.ts';
import type { Analyser } from '../contract/fleet.ts';
import type { CalibrationRow } from './calibrations.ts';

/** An analyser as the fleet knows it. */
export interface FleetAnalyser {
  readonly id: string;
  /** Of its document. */
  readonly version: number;
  readonly document: Analyser;
}

type Choosable = Pick<CalibrationRow, 'id' | 'kind' | 'gas' | 'value' | 'state' | 'validFrom' | 'validTo' | 'setAt'>;

/** Later entries of this order win. */
const byPrecedence = (a: Choosable, b: Choosable): number =>
  (a.validFrom?.getTime() ?? 0) - (b.validFrom?.getTime() ?? 0) ||
  a.setAt.getTime() - b.setAt.getTime() ||
  (a.id < b.id ? -1 : 1);

/** The rows that hold at an instant: of each kind (and gas) the one that was valid from the latest. */
export const rowsInForce = <R extends Choosable>(rows: readonly R[], atMs: number): R[] => {
  const chosen = new Map<string, R>();
  const holding = rows.filter(
    ({ state, validFrom, validTo }) =>
      state === 'in-force' &&
      validFrom !== null &&
      validFrom.getTime() <= atMs &&
      (validTo === null || atMs < validTo.getTime()),
  );
  for (const row of holding.sort(byPrecedence)) chosen.set(`${row.kind}\n${row.gas ?? ''}`, row);
  return [...chosen.values()];
};

/** What the fleet document alone says. */
export const documentCalibration = ({ id, version, document }: FleetAnalyser): Calibration => ({
  analyser: id,
  principle: document.principle ?? 'quadrupole',
  massRange: document.massRange ? [document.massRange[0] as number, document.massRange[1] as number] : null,
  sensitivityAmperesPerPascal: document.sensitivityAmperesPerPascal ?? null,
  multiplierGain: document.multiplierGain ?? null,
  transmissionExponent: document.transmissionExponent ?? 0,
  version: `${id}/${version}`,
});

const laidOver = (calibration: Calibration, { kind, value }: Choosable): Calibration => {
  const number = value as NumberValue;
  switch (kind) {
    case 'sensitivity':
      return {
        ...calibration,
        sensitivityAmperesPerPascal: number.value,
        ...(number.relativeUncertainty === null ? {} : { sensitivityUncertainty: number.relativeUncertainty }),
      };
    case 'gain':
      return {
        ...calibration,
        multiplierGain: number.value,
        ...(number.relativeUncertainty === null ? {} : { multiplierGainUncertainty: number.relativeUncertainty }),
      };
    case 'transmission':
      return { ...calibration, transmissionExponent: number.value };
    case 'gauge-factor':
      return {
        ...calibration,
        gaugeFactor: number.value,
        ...(number.relativeUncertainty === null ? {} : { gaugeFactorUncertainty: number.relativeUncertainty }),
      };
    case 'pattern':
      return { ...calibration, patterns: [...(calibration.patterns ?? []), patternOf(value as PatternValue)] };
    case 'background':
      return { ...calibration, background: value as BackgroundValue as Background };
  }
};

/** JSON keys are strings and the analysis asks by mass: the same keys to JavaScript. */
const patternOf = (value: PatternValue): LearnedPattern => value as LearnedPattern;

/** The calibration of rows that hold together; `version` names the document's and every row's. */
const composed = (analyser: FleetAnalyser, holding: readonly Choosable[]): Calibration => {
  if (holding.length === 0) return documentCalibration(analyser);
  const sorted = [...holding].sort((a, b) => (a.id < b.id ? -1 : 1));
  const calibration = sorted.reduce(laidOver, documentCalibration(analyser));
  return { ...calibration, version: [calibration.version, ...sorted.map(({ id }) => id)].join('+') };
};

export const calibrationAt = (analyser: FleetAnalyser, rows: readonly Choosable[], atMs: number): Calibration =>
  composed(analyser, rowsInForce(rows, atMs));

/**
 * The same for scan after scan: from one beginning or end of validity to the next it is one object, found in a few
 * steps.
 */
export const calibrationsOverTime = (
  analyser: FleetAnalyser,
  rows: readonly Choosable[],
): ((atMs: number) => Calibration) => {
  const turns = rows
    .flatMap(({ validFrom, validTo }) => [validFrom, validTo])
    .flatMap((time) => (time === null ? [] : [time.getTime()]))
    .sort((a, b) => a - b);
  const known = new Map<number, Calibration>();
  return (atMs) => {
    const span = turns.findLastIndex((turn) => turn <= atMs);
    let calibration = known.get(span);
    if (calibration === undefined) {
      calibration = calibrationAt(analyser, rows, atMs);
      known.set(span, calibration);
    }
    return calibration;
  };
};
