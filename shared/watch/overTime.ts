/**
 * What the watch remembers of shapes that take hours to months: pump-downs, recoveries, decays, ageing. Plain JSON;
 * everything in it is replaced, never changed in place.
 */

import type { LifeBook } from './endOfLife.ts';
import type { GetterBook } from './getter.ts';
import type { PumpDownBook } from './pumpDown.ts';
import type { RecoveryBook } from './recovery.ts';
import type { DecaySeries } from './trappedVolume.ts';
import type { WarmUp } from './warmUp.ts';
import type { WaterBursts } from './waterBursts.ts';

export interface OverTimeBook {
  pumpDown: PumpDownBook;
  decays: readonly DecaySeries[];
  water: WaterBursts;
  recovery: RecoveryBook;
  getter: GetterBook;
  warmUp: WarmUp | null;
  life: LifeBook;
}

export const emptyOverTime = (): OverTimeBook => ({
  pumpDown: { run: null, kept: [], rest: {} },
  decays: [],
  water: { on: false, low: 0, high: null, bursts: [] },
  recovery: { run: null, kept: [] },
  getter: { days: [] },
  warmUp: null,
  life: { gain: [], sensitivity: [], floor: [] },
});

/** Memories of before hold less: what is missing is empty. */
export const copyOverTime = (book: OverTimeBook | undefined): OverTimeBook => ({ ...emptyOverTime(), ...book });
