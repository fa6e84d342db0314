/** The evidence form of one analyser: what, what was found and how surely, what is expected, and what follows. */

import type { AnalyserMeasurement, MeasurementTrend } from '../../shared/contract/measurement.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { drawEvidence, type EvidenceDrawing } from '../alerts/evidenceScale.ts';
import { brief, digitsFor, intervalAround, plain, scientific, scientificRange, thousands } from '../notation/number.ts';
import { NBSP, pressure } from '../notation/pressure.ts';
import { several } from '../notation/sentence.ts';
import { words as all } from '../strings/analyserFound.ts';
import { mass, offset, type Quantity, quantityNumber, quantityUnit, quantityValue, withUnit } from './quantities.ts';
import { isOutside, type Usual, usualOf } from './usual.ts';

const words = all.findings;

export interface Finding {
  readonly what: string;
  readonly found: string;
  readonly expected: string;
  readonly drawing: EvidenceDrawing | null;
  readonly so: string;
}

export interface FindingParts {
  readonly measured: AnalyserMeasurement;
  readonly trend: MeasurementTrend | undefined;
  readonly unit: PressureUnit;
  /** An instant as the reader's clock shows it. */
  readonly moment: (at: string) => string;
}

const NOT_MEASURED = words.notMeasured;

/** The usual range of a quantity on this analyser, from the trend that the page shows. */
const usualIn = (parts: FindingParts, quantity: Quantity): Usual | null =>
  usualOf((parts.trend?.series[quantity] ?? []).map(({ value }) => value));

const rangeText = (quantity: Quantity, { low, high }: Usual, unit: PressureUnit): string => {
  const inUnit = (value: number) => quantityValue(quantity, value, unit);
  const own = quantityUnit(quantity, unit);
  if (own !== '' && own !== 'u') return withUnit(scientificRange(inUnit(low), inUnit(high)), own);
  const text = `${quantityNumber(quantity, low)}${low < 0 || high < 0 ? ' to ' : '–'}${quantityNumber(quantity, high)}`;
  return withUnit(text, own);
};

interface OwnRow {
  readonly quantity: Quantity;
  readonly what: string;
  readonly value: number | null;
  readonly low?: number;
  readonly high?: number;
  readonly found: string;
  readonly so: string;
  /** Instead of the range from the trend. */
  readonly usual?: Usual | null;
}

/** A row whose expectation is what this analyser itself has shown. */
function ownRow(parts: FindingParts, row: OwnRow): Finding {
  const { quantity, what, value, found } = row;
  const usual = row.usual ?? usualIn(parts, quantity);
  const outside = value === null || usual === null ? null : isOutside(value, usual);
  const so = outside === null ? row.so : words.itsUsualRange(outside, row.so);
  return {
    what,
    found,
    expected: usual === null ? words.notKnownYet : rangeText(quantity, usual, parts.unit),
    drawing:
      usual === null || value === null
        ? null
        : drawEvidence({ value, low: row.low, high: row.high, expectedLow: usual.low, expectedHigh: usual.high }),
    so,
  };
}

function floorRow(parts: FindingParts): Finding {
  const { floor, detectionMultiple } = parts.measured;
  return ownRow(parts, {
    quantity: 'floor',
    what: words.minimumDetectablePartialPressure(brief(detectionMultiple)),
    value: floor,
    found: pressure(floor, parts.unit),
    so: words.n2EquivalentAtStandard(brief(detectionMultiple)),
  });
}

function decadesRow(parts: FindingParts): Finding {
  const { decades } = parts.measured;
  return ownRow(parts, {
    quantity: 'decades',
    what: words.dynamicRange,
    value: decades,
    found: decades === null ? NOT_MEASURED : words.decades(decades.toFixed(1)),
    so: words.fromTheLargestPeak,
  });
}

function kappaRow(parts: FindingParts): Finding {
  const { kappa } = parts.measured;
  if (kappa === null || kappa.now === null) {
    const so =
      parts.measured.calibration.sensitivityAmperesPerPascal === null
        ? words.cannotTellTheSum
        : words.cannotTellNoGauge;
    return { what: words.gaugeOverSum, found: NOT_MEASURED, expected: '—', drawing: null, so };
  }
  const usual = kappa.low !== null && kappa.high !== null ? { low: kappa.low, high: kappa.high } : null;
  const where = kappa.usual === null ? '' : words.usually(plain(kappa.usual));
  return ownRow(parts, {
    quantity: 'kappa',
    what: words.gaugeOverSum,
    value: kappa.now,
    found: quantityNumber('kappa', kappa.now),
    usual,
    so: kappa.steady
      ? words.steadyOver1Is(several(kappa.scans, 'scan'), where)
      : words.notSteadyYet(several(kappa.scans, 'scan'), kappa.since ? words.since(parts.moment(kappa.since)) : ''),
  });
}

/** Beyond this the mass scale is told as moved. */
const SHIFT_TOLD_U = 0.2;

function massRows(parts: FindingParts): Finding[] {
  const { massScale, widths, massOffset } = parts.measured;
  const value = massScale?.offset ?? massOffset;
  const slope = massScale === null ? '' : words.slopePer100U(offset(massScale.slopePer100, 3), NBSP);
  const neighbours = (width: number) => (width <= 1 ? words.at5StillNarrower : words.at5WiderThan);
  return [
    ownRow(parts, {
      quantity: 'massOffset',
      what: words.massScaleOffsetAnd,
      value,
      found: value === null ? NOT_MEASURED : `${offset(value, 3)}${slope}`,
      so: value === null ? words.cannotTellOnlyA : words.correctedBeforeHeightsAre(SHIFT_TOLD_U, NBSP),
    }),
    ownRow(parts, {
      quantity: 'width',
      what: words.peakWidthAt50,
      value: widths?.half ?? parts.measured.width,
      found: widths ? `${mass(widths.half)}, ${mass(widths.tenth)}, ${mass(widths.twentieth)}${NBSP}u` : NOT_MEASURED,
      so: widths ? neighbours(widths.twentieth) : words.cannotTellOnlyAProfile,
    }),
  ];
}

function noiseRow(parts: FindingParts): Finding {
  const { noise } = parts.measured;
  return ownRow(parts, {
    quantity: 'noise',
    what: words.noiseOneAtMass,
    value: noise?.sigma ?? null,
    found: noise ? pressure(noise.sigma, parts.unit) : NOT_MEASURED,
    so: noise
      ? words.from(noise.from, noise.scans === null ? '' : `, ${several(noise.scans, 'scan')}`)
      : words.cannotTellYet,
  });
}

function gainRow(parts: FindingParts): Finding {
  const gain = parts.measured.gainDetail;
  if (gain === null) {
    return {
      what: words.gainOfTheMultiplier,
      found: NOT_MEASURED,
      expected: '—',
      drawing: null,
      so: words.noMultiplierInUse,
    };
  }
  const interval = { low: gain.low, high: gain.high };
  const digits = 3;
  const record = gain.onRecord === null ? words.noneOnRecord : words.onRecord(plain(gain.onRecord));
  const age = gain.at === null ? '' : words.last(parts.moment(gain.at));
  return ownRow(parts, {
    quantity: 'gain',
    what: words.gainOfTheMultiplier,
    value: gain.value,
    low: gain.low,
    high: gain.high,
    found: `${plain(gain.value, digits)} ${intervalAround(gain.value, interval, digits, true)}`,
    so:
      gain.from === 'pair'
        ? words.measuredWithBothDetectors(several(gain.pairs, 'pair'), age, record)
        : words.takenFromTheRecord(age),
  });
}

function fitRows(parts: FindingParts): Finding[] {
  const { chiSquarePerDof, unexplained, candidates } = parts.measured;
  const strange = candidates.map(({ mass: at }) => at).join(', ');
  return [
    ownRow(parts, {
      quantity: 'chiSquarePerDof',
      what: words.perDegreeOfFreedom,
      value: chiSquarePerDof,
      found: chiSquarePerDof === null ? NOT_MEASURED : plain(chiSquarePerDof),
      so: words.isWhatNoiseAnd,
    }),
    {
      what: words.unexplainedShare,
      found: unexplained === null ? NOT_MEASURED : unexplained > 0 ? `${plain(unexplained * 100)}${NBSP}%` : 'none',
      expected: '—',
      drawing: null,
      so: candidates.length === 0 ? words.noPeakIsLeft : words.peaksAtSeeBelow(strange),
    },
  ];
}

function responseRow({ measured }: FindingParts): Finding {
  const { seconds, averages, responseSeconds, scanPeriodSeconds } = measured;
  const sweeps =
    seconds === null || averages === null ? '' : ` = ${brief(seconds)}${NBSP}s × ${thousands(String(averages))}`;
  return {
    what: words.responseTime,
    found: responseSeconds === null ? NOT_MEASURED : `${brief(responseSeconds)}${NBSP}s${sweeps}`,
    expected: '—',
    drawing: null,
    so:
      scanPeriodSeconds === null
        ? words.whatIsShorterThan
        : words.whatIsShorterThanThis(brief(scanPeriodSeconds), NBSP),
  };
}

/** The instrument itself, in fixed order. */
export const instrumentFindings = (parts: FindingParts): Finding[] => [
  floorRow(parts),
  decadesRow(parts),
  kappaRow(parts),
  ...massRows(parts),
  noiseRow(parts),
  gainRow(parts),
  ...fitRows(parts),
  responseRow(parts),
];

/** `2.3×10⁻⁹ Pa (1.6–3.2)` out of pascals. */
export function pressureWithin(valuePa: number, interval: Usual, unit: PressureUnit): string {
  const value = fromPascal(valuePa, unit);
  const within = { low: fromPascal(interval.low, unit), high: fromPascal(interval.high, unit) };
  const digits = digitsFor(value, within);
  return `${scientific(value, digits)}${NBSP}${unit} ${intervalAround(value, within, digits)}`;
}
