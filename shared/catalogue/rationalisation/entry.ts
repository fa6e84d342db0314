/** What a built-in record adds to the signature's own entry in the catalogue; the rest is taken from there. */
import type { Consequence, Responder } from '../../contract/rationalisation.ts';
import type { OperatingState } from '../../contract/words.ts';

export interface Reasons {
  readonly causes: readonly [string, ...string[]];
  /** What happens if nobody responds. */
  readonly consequence: string;
  readonly severity: Consequence;
  readonly timeToRespondMinutes: number;
  /** Limits and where they come from. */
  readonly limits: string;
  /** Why it latches or does not, where that is not plain. */
  readonly latch?: string;
  readonly latching: boolean;
  readonly armedStates: readonly OperatingState[];
  readonly responder: Responder;
  readonly reAlarmHours: number | null;
}

/** Times to respond, minutes. */
export const MINUTES = { ten: 10, hour: 60, twoHours: 120, fourHours: 240, shift: 480, day: 1440, days: 4320 } as const;
/** Hours: the next shift takes it over; the next day. */
export const RE_ALARM = { shift: 8, day: 24 } as const;
