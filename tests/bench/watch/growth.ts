/** Ten per cent a week. */
import type { Signature } from '../../../shared/contract/words.ts';
import { type Chamber, leastDetectableLeak } from './chamber.ts';
import { air } from './conditions.ts';
import type { Effect } from './effect.ts';
import { DAY } from './hall.ts';

const GROWTH_PER_DAY = Math.log(1.1) / 7;
/** Weeks of ten per cent; from 20 × MDQ of air, or from the water that is there. */
export const GROWTHS = {
  'air leak grows': {
    signature: 'air-leak' as Signature,
    effect: ({ chamber, age, onset }: GrowthQuestion): Partial<Effect> => ({
      inflow: air(20 * leastDetectableLeak(chamber) * grown(age, onset), 0.7),
    }),
  },
  'water grows': {
    signature: 'water' as Signature,
    effect: ({ age, onset }: GrowthQuestion): Partial<Effect> => ({
      loadFactor: (gas) => (gas === 'H2O' ? grown(age, onset) : 1),
    }),
  },
} as const;
export type Growth = keyof typeof GROWTHS;

interface GrowthQuestion {
  readonly chamber: Chamber;
  readonly age: number;
  /** Seconds from the start to where the growth begins. */
  readonly onset: number;
}

const grown = (age: number, onset: number): number => Math.exp((GROWTH_PER_DAY * Math.max(0, age - onset)) / DAY);
/** From the onset to where it has left a band of 0.1 decade. */
export const SECONDS_TO_LEAVE_BAND = (Math.log(10 ** 0.1) / GROWTH_PER_DAY) * DAY;
