import type { Catalogue } from '../../catalogue/types.ts';
import type { AnalysisScan, Calibration } from '../types.ts';
import { type BackgroundAnswer, closedValveBackground } from './closedValve.ts';
import { secondAnalyserBackground } from './secondAnalyser.ts';

/** Scans of one analyser that a person marked. */
export interface MarkedScans {
  readonly scans: readonly AnalysisScan[];
  readonly calibration: Calibration;
}

export interface BackgroundQuestion extends MarkedScans {
  /** Gases of the chamber. */
  readonly catalogue: Catalogue;
  /** The analyser that is trusted, over the same time; null: the scans were taken with the valve closed. */
  readonly other: MarkedScans | null;
}

/** The analyser's own gas, in either of the two ways there are to see it alone. */
export function recordBackground({ scans, calibration, catalogue, other }: BackgroundQuestion): BackgroundAnswer {
  const first = { scans, calibration, catalogue };
  if (other === null) return closedValveBackground(first);
  return secondAnalyserBackground({ first, second: { ...other, catalogue } });
}
