/**
 * What the heights of an analyser rest on, and by how much they move when one of these numbers does.
 *
 *   height at mass m = current · (m/28)^t / (S · gain)          ion currents
 *
 * with S the sensitivity for nitrogen and t the transmission exponent; an analyser that sends pressures has calibrated
 * itself; a relative signal is scaled so that the gauge agrees. Patterns and the analyser's own background decide what
 * the heights are called, not how high they are. The gain belongs to a detector and is followed there (detectors.ts).
 */
import type { AnalysisScan, Calibration } from '../analysis/types.ts';

export interface Scale {
  readonly kind: 'pressure' | 'current' | 'shares';
  readonly sensitivity: number | null;
  readonly exponent: number;
  readonly gaugeFactor: number;
  /** Short digest of what turns heights into gases: patterns, background, principle. */
  readonly gases: number;
}

const CALIBRATION_MASS = 28;

export function scaleOf(calibration: Calibration, { unit }: Pick<AnalysisScan, 'unit'>): Scale {
  const { sensitivityAmperesPerPascal: sensitivity, transmissionExponent, gaugeFactor = 1 } = calibration;
  const current = unit === 'A' && sensitivity !== null && sensitivity > 0;
  return {
    kind: current ? 'current' : unit === 'A' || unit === '1' ? 'shares' : 'pressure',
    sensitivity,
    exponent: transmissionExponent,
    gaugeFactor,
    gases: digestOf(calibration),
  };
}

/** 32 bits (FNV-1a). */
function digestOf({ patterns, background, principle }: Calibration): number {
  const text = JSON.stringify([patterns?.length ? patterns : null, background ?? null, principle]);
  let digest = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) digest = Math.imul(digest ^ text.charCodeAt(i), 0x01000193);
  return digest >>> 0;
}

export interface ScaleChange {
  /** By this the heights at a mass are multiplied. */
  readonly factorAt: (mass: number) => number;
  readonly moves: boolean;
  /** A common factor that the numbers do not tell: the gauge decides it anew. */
  readonly loose: boolean;
  /** Gases are made of the heights in another way. */
  readonly otherGases: boolean;
  readonly gaugeFactor: number;
}

/** Null: what the one has to do with the other cannot be told. */
export function scaleChange(before: Scale, now: Scale): ScaleChange | null {
  if (before.kind !== now.kind) return null;
  const otherGases = before.gases !== now.gases;
  const gaugeFactor = now.gaugeFactor / before.gaugeFactor;
  const rest = { otherGases, gaugeFactor };
  if (now.kind === 'pressure') return { ...rest, factorAt: () => 1, moves: false, loose: false };
  const steeper = now.exponent - before.exponent;
  const common = now.kind === 'current' ? before.sensitivity! / now.sensitivity! : gaugeFactor;
  return {
    ...rest,
    factorAt: (mass) => common * (mass / CALIBRATION_MASS) ** steeper,
    moves: common !== 1 || steeper !== 0,
    loose: now.kind === 'shares' && (otherGases || steeper !== 0),
  };
}
