import type { Pin, UsualGases, UsualNow } from '../../shared/contract/rehearsal.ts';
import { words as all } from '../strings/usual.ts';

const words = all.pinWords;

export const PIN_STATE: Readonly<Record<Pin['state'], string>> = {
  waiting: words.beingWorkedOut,
  proposed: 'proposed',
  'in-force': words.inForce,
  replaced: 'replaced',
  withdrawn: 'withdrawn',
  failed: words.nothingLearned,
};

/** A factor closer to 1 than this is the same for a reader: a tenth of a decade. */
const SAME_DECADES = 0.1;

export interface UsualChange {
  readonly gas: string;
  readonly nowPa: number | null;
  readonly pinnedPa: number | null;
  /** log10 of the factor; null: one of them is not known. */
  readonly decades: number | null;
}

/** What would be usual otherwise, the largest change first; gases that stay within a tenth of a decade are counted. */
export function usualChanges(now: UsualGases, pinned: UsualGases): { moved: readonly UsualChange[]; same: number } {
  const gases = [...new Set([...Object.keys(now), ...Object.keys(pinned)])];
  const all = gases.map((gas): UsualChange => {
    const nowPa = now[gas]?.median ?? null;
    const pinnedPa = pinned[gas]?.median ?? null;
    const known = nowPa !== null && pinnedPa !== null && nowPa > 0 && pinnedPa > 0;
    return { gas, nowPa, pinnedPa, decades: known ? Math.log10(pinnedPa / nowPa) : null };
  });
  const moved = all.filter(({ decades }) => decades === null || Math.abs(decades) >= SAME_DECADES);
  const size = ({ decades }: UsualChange) => (decades === null ? Number.POSITIVE_INFINITY : Math.abs(decades));
  return { moved: moved.sort((a, b) => size(b) - size(a)), same: all.length - moved.length };
}

export const usualIn = (usual: readonly UsualNow[], state: string): UsualGases =>
  usual.find(({ operatingState }) => operatingState === state)?.gases ?? {};

/** Most scans that any gas was learned from. */
export const scansOf = (gases: UsualGases): number => Math.max(0, ...Object.values(gases).map(({ scans }) => scans));

export const inForce = (pins: readonly Pin[], state: string): Pin | undefined =>
  pins.find((pin) => pin.state === 'in-force' && pin.operatingState === state);
