/** Where the newest spectrum is not what the gases say it should be. */
import type { Residuals } from '../../shared/contract/measurement.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import type { WholeMeasurement } from '../../shared/db/measurement.ts';
import { notFound } from '../errors.ts';
import { iso } from '../instant.ts';
import { plain, pressure } from '../present.ts';
import { candidatesOf } from './detail.ts';

/** @throws 404 where the newest scan gave no peaks, or none came yet */
export const residualsOf = (whole: WholeMeasurement, unit: PressureUnit): Residuals => {
  const { at, scanId, spectrum, measurement, analyser } = whole;
  if (at === null || scanId === null) throw notFound(`Nothing of ${analyser} has been analysed yet.`);
  if (spectrum === null) throw notFound(`The newest scan of ${analyser} gave no peaks; see its notes.`);
  const leftOut = new Map((measurement?.leftOut ?? []).map(({ mass, why }) => [mass, why]));
  return {
    at: iso(at),
    analyser,
    scanId,
    unit,
    chiSquarePerDof: plain(measurement?.chiSquarePerDof),
    unexplained: plain(whole.unexplained),
    peaks: spectrum.peaks.map(({ mass, value, sigma, parts, residual = null }) => ({
      mass,
      height: pressure(value, unit),
      explained: value === null || residual === null ? null : pressure(value - residual, unit),
      residual: pressure(residual, unit),
      sigma: pressure(sigma, unit),
      parts: parts.map((part) => ({ ...part })),
      leftOut: leftOut.get(mass) ?? null,
    })),
    candidates: candidatesOf(whole),
  };
};
