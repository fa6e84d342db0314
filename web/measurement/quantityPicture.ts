import type { CalibrationEntry } from '../../shared/contract/calibration.ts';
import type { MeasurementTrend } from '../../shared/contract/measurement.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { rowsOf } from '../charts/gaps.ts';
import { linearAxis } from '../charts/linearAxis.ts';
import { logAxis } from '../charts/logAxis.ts';
import { pausesOf } from '../charts/pauses.ts';
import { QUANTITY, type QuantityPicture } from '../charts/QuantityChart.tsx';
import { timeTicks } from '../charts/timeAxis.ts';
import type { Span } from '../charts/zoom.ts';
import { duration } from '../notation/age.ts';
import { listed, several } from '../notation/sentence.ts';
import { clockTime, moment } from '../notation/time.ts';
import { words as all } from '../strings/analyser.ts';
import { KIND_SHORT } from './calibrationWords.ts';
import {
  type Quantity,
  quantityNumber,
  quantityScale,
  quantityTitle,
  quantityUnit,
  quantityValue,
  withUnit,
} from './quantities.ts';
import { usualOf } from './usual.ts';

const said = all.quantityPicture;

export interface QuantityParts {
  readonly trend: MeasurementTrend;
  readonly quantity: Quantity;
  readonly span: Span;
  readonly unit: PressureUnit;
  readonly zone: string;
  readonly nowMs: number;
  readonly entries: readonly CalibrationEntry[];
  readonly tickCount: number;
}

export function quantityPicture(parts: QuantityParts): QuantityPicture {
  const { trend, quantity, span, unit, zone, entries } = parts;
  const points = trend.series[quantity] ?? [];
  const inUnit = (value: number) => quantityValue(quantity, value, unit);
  const { scale, least } = quantityScale(quantity);
  const gaps = pausesOf(
    points.map(({ at }) => Date.parse(at)),
    trend.step * 1000,
  );
  const all = points.flatMap(({ value, min, max }) => [inUnit(value), inUnit(min), inUnit(max)]);
  const usual = usualOf(points.map(({ value }) => inUnit(value)));
  const last = points[points.length - 1];
  return {
    rows: scale === 'log' ? rowsOf({ [QUANTITY]: points }, gaps, inUnit) : signedRows(points, gaps, inUnit),
    gaps,
    axis: scale === 'log' ? { scale, axis: logAxis(all) } : { scale, axis: linearAxis(all, least) },
    ticks: timeTicks(span.from, span.to, zone, parts.tickCount),
    usual: usual ? { ...usual, text: said.whereItStood95 } : null,
    poles: entries
      .filter(({ state, validFrom }) => state === 'in-force' && validFrom !== null)
      .map((entry) => ({ id: entry.id, at: Date.parse(entry.validFrom ?? ''), kind: entry.kind }))
      .filter(({ at }) => at >= span.from && at <= span.to)
      .sort((a, b) => a.at - b.at)
      .map(({ id, at, kind }) => ({ id, at, text: said.new(clockTime(at, zone), KIND_SHORT[kind]) })),
    last: last ? { value: inUnit(last.value), text: quantityNumber(quantity, inUnit(last.value)) } : null,
    unit: quantityUnit(quantity, unit) || quantityTitle(quantity),
  };
}

type Points = MeasurementTrend['series'][string];

/** Rows for a linear axis, on which zero and less are values like any other. */
function signedRows(points: Points, gaps: QuantityPicture['gaps'], inUnit: (value: number) => number) {
  const rows = points.map(({ at, value, min, max }) => ({
    t: Date.parse(at),
    [QUANTITY]: inUnit(value),
    [`${QUANTITY} range`]: [inUnit(min), inUnit(max)] as const,
  }));
  const breaks = gaps.map(({ from, to }) => ({ t: (from + to) / 2, [QUANTITY]: null, [`${QUANTITY} range`]: null }));
  return [...rows, ...breaks].sort((a, b) => a.t - b.t);
}

/** The picture in words. */
export function quantitySentence(picture: QuantityPicture, parts: QuantityParts): string {
  const { quantity, span, zone, nowMs, unit, trend } = parts;
  const own = quantityUnit(quantity, unit);
  const told = (value: number) => withUnit(quantityNumber(quantity, quantityValue(quantity, value, unit)), own);
  const values = (trend.series[quantity] ?? []).map(({ value }) => value);
  const range =
    values.length === 0
      ? said.nothingWasMeasured
      : said.toLast(told(Math.min(...values)), told(Math.max(...values)), told(values[values.length - 1] ?? 0));
  const gaps = picture.gaps.map(({ from, to }) => duration((to - from) / 1000));
  return [
    said.fromTo(quantityTitle(quantity), moment(span.from, zone, nowMs), moment(span.to, zone, nowMs), range),
    gaps.length > 0 ? said.withoutScans(several(gaps.length, 'gap'), listed(gaps.slice(0, 4))) : '',
    picture.poles.length > 0 ? said.calibrations(listed(picture.poles.map(({ text }) => text))) : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}
