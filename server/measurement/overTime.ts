/** How an analyser's own figures went, in the asked unit and at the detection multiple that is set. */
import {
  MEASURED_QUANTITIES,
  type MeasuredQuantity,
  type MeasurementTrend,
} from '../../shared/contract/measurement.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { readMeasurementSeries } from '../../shared/db/measurementSeries.ts';
import { fromPascal } from '../../shared/units.ts';
import { findAnalyser } from '../analysers.ts';
import type { Deps } from '../deps.ts';
import { iso } from '../instant.ts';
import { rounded } from '../present.ts';
import type { Span } from '../span.ts';
import { decadesAt, floorAt, readMultiple } from './detection.ts';

export interface OverTimeQuestion {
  readonly analyser: string;
  readonly span: Span;
  readonly points: number;
  readonly unit: PressureUnit;
}

/** @throws 404 for an analyser that is not there */
export const readOverTime = async (deps: Deps, asked: OverTimeQuestion): Promise<MeasurementTrend> => {
  const { span, points, unit } = asked;
  const { sql } = deps.db;
  const { chamber, id: analyser } = await findAnalyser(deps, asked.analyser);
  const [multiple, series] = await Promise.all([
    readMultiple(sql),
    readMeasurementSeries(sql, { chamber, analyser, ...span, points }),
  ]);
  const moved: Partial<Record<MeasuredQuantity, (value: number) => number>> = {
    floor: (value) => fromPascal(floorAt(value, multiple), unit),
    noise: (value) => fromPascal(value, unit),
    decades: (value) => decadesAt(value, multiple),
  };
  const pointsOf = (quantity: MeasuredQuantity) => {
    const show = (value: number) => rounded(moved[quantity]?.(value) ?? value);
    return series[quantity].map(({ at, median, min, max }) => ({
      at: iso(at),
      value: show(median),
      min: show(min),
      max: show(max),
    }));
  };
  return {
    unit,
    analyser,
    from: iso(span.from),
    to: iso(span.to),
    step: (span.to.getTime() - span.from.getTime()) / 1000 / points,
    series: Object.fromEntries(MEASURED_QUANTITIES.map((quantity) => [quantity, pointsOf(quantity)])),
  };
};
