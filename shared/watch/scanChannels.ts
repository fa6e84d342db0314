/** The spectrum of a scan on the channels of a baseline, with its gauge where the gauge is a witness of its own. */
import { gaugeReading } from '../analysis/gauge.ts';
import type { Calibration } from '../analysis/types.ts';
import { toChannels } from './channels.ts';
import type { Vector } from './memory.ts';
import type { WatchInput } from './types.ts';

export function scanChannels(calibration: Calibration, input: WatchInput, masses: Vector): Float64Array {
  const { scan, peaks, analysis } = input;
  const gauge = gaugeReading(scan);
  const pressurePa = isGaugeOwn(calibration, input) && gauge.kind === 'reading' ? gauge.pressurePa : null;
  return toChannels(peaks, pressurePa, masses, analysis.measurement?.leftOut);
}

/** Heights that were scaled to the gauge cannot be held against it. */
function isGaugeOwn(calibration: Calibration, { scan }: WatchInput): boolean {
  return scan.unit !== '1' && !(scan.unit === 'A' && calibration.sensitivityAmperesPerPascal === null);
}
