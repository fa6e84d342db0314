import type { MassScale } from '../massScale.ts';
import { short } from './memory.ts';

/**
 * Where peaks stand, followed over profiles: a profile without a strong peak of its own is read there.
 *
 * A tuning drifts with the temperature of the electronics, over hours: the last dozen profiles count. One scan that
 * says something else (few peaks, a doubly charged ion) moves it by no more than the cut; three in a row that agree
 * with each other do, at once.
 */
export interface ScaleMemory {
  readonly offsetU: number;
  readonly slope: number;
  readonly pivot: number;
  /** Over months. */
  readonly usualOffsetU: number;
  readonly scans: number;
  readonly astray: number;
  readonly atMs: number;
}

const SHARE = 1 / 12;
/** The usual place is a mean of the first profiles, then follows with one part in a thousand each. */
const USUAL_SHARE = 1e-3;
const CUT_U = 0.05;
const ASTRAY_SCANS = 3;

export function learnScale(memory: ScaleMemory | null, found: MassScale | null, atMs: number): ScaleMemory | null {
  if (found === null) return memory;
  if (memory === null) return begin(found, found.offsetU, 1, atMs);
  // A slope turns about the middle of the masses that voted, which differs from scan to scan: compared at one mass.
  const there = found.offsetU + found.slope * (memory.pivot - found.pivot);
  const away = there - memory.offsetU;
  const usualShare = Math.max(USUAL_SHARE, 1 / (memory.scans + 1));
  const usual = memory.usualOffsetU + usualShare * (there - memory.usualOffsetU);
  const astray = Math.abs(away) > CUT_U ? memory.astray + 1 : 0;
  if (astray >= ASTRAY_SCANS) return begin(found, usual, memory.scans + 1, atMs);
  const step = Math.max(-CUT_U, Math.min(CUT_U, away));
  return {
    offsetU: short(memory.offsetU + SHARE * step, 6),
    slope: short(memory.slope + SHARE * (found.slope - memory.slope), 6),
    pivot: memory.pivot,
    usualOffsetU: short(usual, 6),
    scans: memory.scans + 1,
    astray,
    atMs,
  };
}

const begin = ({ offsetU, slope, pivot }: MassScale, usual: number, scans: number, atMs: number): ScaleMemory => ({
  offsetU: short(offsetU, 6),
  slope: short(slope, 6),
  pivot,
  usualOffsetU: short(usual, 6),
  scans,
  astray: 0,
  atMs,
});

export const followedScale = (memory: ScaleMemory | null): MassScale | null =>
  memory === null ? null : { offsetU: memory.offsetU, slope: memory.slope, pivot: memory.pivot };
