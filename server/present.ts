/** From what is stored (pascal, Dates) to what the contract promises (the asked unit, RFC 3339). */
import type { GasEstimate } from '../shared/analysis/types.ts';
import type { GasReading, LatestReading } from '../shared/contract/readings.ts';
import type { PressureUnit } from '../shared/contract/words.ts';
import type { LatestFacts } from '../shared/db/chamberFacts.ts';
import { fromPascal } from '../shared/units.ts';
import { iso } from './instant.ts';

/** Estimates are stored as float32: seven digits are theirs, the eighth would be noise of the format. */
const DIGITS = 6;

export const rounded = (value: number): number => Number(value.toPrecision(DIGITS));

/** Null stays null, and what is not finite is no answer. */
export const pressure = (valuePa: number | null | undefined, unit: PressureUnit): number | null =>
  valuePa === null || valuePa === undefined || !Number.isFinite(valuePa) ? null : rounded(fromPascal(valuePa, unit));

export const plain = (value: number | null | undefined): number | null =>
  value === null || value === undefined || !Number.isFinite(value) ? null : rounded(value);

export const gasReading = (gas: GasEstimate, unit: PressureUnit): GasReading => ({
  value: pressure(gas.valuePa, unit),
  low: pressure(gas.lowPa, unit),
  high: pressure(gas.highPa, unit),
  detected: gas.detected,
});

export const gasReadings = (gases: readonly GasEstimate[], unit: PressureUnit): Record<string, GasReading> =>
  Object.fromEntries(gases.map((gas) => [gas.gas, gasReading(gas, unit)]));

export const latestReading = (latest: LatestFacts, unit: PressureUnit): LatestReading => ({
  at: iso(latest.at),
  analyser: latest.analyser,
  state: latest.state,
  unit,
  total: { gauge: pressure(latest.gaugePa, unit), sum: pressure(latest.sumPa, unit) },
  gases: gasReadings(latest.gases, unit),
  floor: pressure(latest.floorPa, unit),
  decades: plain(latest.decades),
  unexplained: plain(latest.unexplained),
  notes: [...latest.notes],
});
