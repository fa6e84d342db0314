/**
 * How far each gas of the background has moved in a change, by the mass at which it is seen best. Nitrogen shares 28 with
 * carbon monoxide and is asked at 14, where what methane and the oxides leave there is taken off first: 14/28 of nitrogen
 * is 0.138, of carbon monoxide 0.006 (NIST WebBook).
 */
import type { Frame } from './frame.ts';
import { type OwnSpectrum, relativeAt } from './ownGases.ts';
import { DEAD_BAND, OWN_PATTERN_WOBBLE, RELATIVE_FLOOR } from './parameters.ts';

export interface Moved {
  readonly gas: string;
  /** 0.5: half as much again as is usual. */
  readonly relative: number;
  readonly sigma: number;
}

type Ground = Pick<Frame, 'baseline' | 'reference'>;

/** A gas that is seen this well has a peak of its own; how far its noise lets it be trusted is told by sigma. */
const MOVED_CLARITY = 4;
/** Variance of a median of three against that of one scan. */
const MIDDLE_SHARE = 0.45;
const CLEAR_SIGMAS = 3;
const LEAST_MOVE = 0.5 * DEAD_BAND;
/** Of a peak that it shares with others, the part from which on a gas speaks through it. */
const OWNED = 0.6;
const NITROGEN_MASSES = [14, 28] as const;

/** Gases that are seen well enough to be asked, in the order of the chamber's spectra. */
export function movedGases(ground: Ground, change: Float64Array): Moved[] {
  return ground.reference.spectra.flatMap((spectrum) => {
    const { gas, clarity } = spectrum.own;
    if (gas === 'N2') return nitrogenMoved(ground, change) ?? [];
    if (gas === 'CO' && !(clarity > MOVED_CLARITY)) return oxideMoved(spectrum, ground, change) ?? [];
    if (!(clarity > MOVED_CLARITY)) return [];
    const relative = shareOfTail(spectrum, ground) * relativeAt(spectrum, change, ground.baseline);
    return { gas, relative, sigma: shareOfTail(spectrum, ground) * sigmaAt(spectrum, ground) };
  });
}

/** In a tail the gas is held against what the tail foretells of it, not against what is usual at its end. */
function shareOfTail({ own, channels }: OwnSpectrum, { reference }: Ground): number {
  const usual = channels[own.marker]!;
  return usual > 0 ? usual / (usual + Math.max(0, reference.tail?.[own.marker] ?? 0)) : 1;
}

function noiseAt({ baseline, reference }: Ground, m: number): number {
  return Math.hypot(Math.sqrt(MIDDLE_SHARE * baseline.variance[m]!), RELATIVE_FLOOR * reference.spectrum[m]!);
}

function sigmaAt({ own, channels }: OwnSpectrum, ground: Ground): number {
  return noiseAt(ground, own.marker) / Math.max(channels[own.marker]!, 1e-300);
}

/** Null: the scan has no mass at which nitrogen is told from carbon monoxide. */
export function nitrogenMoved(ground: Ground, change: Float64Array): Moved | null {
  const { baseline, reference } = ground;
  const nitrogen = reference.spectra.find(({ own }) => own.gas === 'N2');
  if (!nitrogen) return null;
  for (const mass of NITROGEN_MASSES) {
    const m = baseline.masses.indexOf(mass) + 1;
    const own = nitrogen.channels[m]!;
    if (m === 0 || !(own > 0)) continue;
    const others = reference.spectra.filter(({ own: { gas }, channels }) => gas !== 'N2' && channels[m]! > 0);
    const total = others.reduce((sum, { channels }) => sum + channels[m]!, own);
    if (mass === 28 && own < OWNED * total) continue;
    let height = change[m]!;
    let square = noiseAt(ground, m) ** 2;
    for (const other of others) {
      const moved = other.channels[m]! * relativeAt(other, change, baseline);
      height -= moved;
      square += (OWN_PATTERN_WOBBLE * moved) ** 2;
    }
    return { gas: 'N2', relative: height / own, sigma: Math.sqrt(square) / own };
  }
  return null;
}

/** Carbon monoxide where nitrogen has the larger part of 28: what nitrogen moved there, by its 14, is taken off. */
function oxideMoved({ channels }: OwnSpectrum, ground: Ground, change: Float64Array): Moved | null {
  const { baseline, reference } = ground;
  const m = baseline.masses.indexOf(28) + 1;
  const nitrogen = reference.spectra.find(({ own }) => own.gas === 'N2');
  const moved = nitrogenMoved(ground, change);
  if (m === 0 || !(channels[m]! > 0) || !nitrogen || moved === null || baseline.masses.indexOf(14) < 0) return null;
  const shared = nitrogen.channels[m]!;
  const relative = (change[m]! - moved.relative * shared) / channels[m]!;
  return { gas: 'CO', relative, sigma: Math.hypot(noiseAt(ground, m), moved.sigma * shared) / channels[m]! };
}

export const hasRisen = ({ relative, sigma }: Moved): boolean => relative > Math.max(LEAST_MOVE, CLEAR_SIGMAS * sigma);

/** It is known to have stayed, and not only too noisy to tell. */
export const hasStayed = ({ relative, sigma }: Moved): boolean =>
  Math.abs(relative) < LEAST_MOVE && CLEAR_SIGMAS * sigma < 2 * LEAST_MOVE;
