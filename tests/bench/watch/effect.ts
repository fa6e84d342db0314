/** What a condition changes, at one moment. */
import type { Gas } from './gasTable.ts';

export interface Effect {
  /** Pa·l/s into the chamber. */
  readonly inflow: Readonly<Partial<Record<Gas, number>>>;
  readonly loadFactor: (gas: string) => number;
  readonly speedFactor: (gas: string) => number;
  readonly gain: number;
  readonly shiftU: number;
  readonly gauge: number;
  readonly noise: number;
  /** Gas of the ioniser, as multiples of what it gives usually. */
  readonly ioniser: number;
  /** N2-equivalent Pa straight onto a mass. */
  readonly peaks: Readonly<Record<number, number>>;
  readonly hallKelvin: number;
  readonly frozen: boolean;
  readonly silent: boolean;
  /** Heights stop here, as a share of the largest usual one. */
  readonly stop: number | null;
}

export const NOTHING: Effect = {
  inflow: {},
  loadFactor: () => 1,
  speedFactor: () => 1,
  gain: 1,
  shiftU: 0,
  gauge: 1,
  noise: 1,
  ioniser: 0,
  peaks: {},
  hallKelvin: 0,
  frozen: false,
  silent: false,
  stop: null,
};
