import type { AlertState, Priority } from '../../shared/contract/words.ts';
import type { Gap } from './gaps.ts';

/** The usual range of one gas, drawn behind the lines; in the chart's unit. */
export interface Bed {
  readonly gas: string;
  readonly low: number;
  readonly high: number;
  readonly text: string;
}

export interface StateBlock extends Gap {
  readonly state: string;
}

/** A staff from top to bottom at the moment at which an alert was raised, or at which somebody noted something. */
export interface Staff {
  readonly id: string;
  readonly at: number;
  readonly text: string;
  /** Of an alert; a note flies none. */
  readonly flag: { readonly priority: Priority; readonly state: AlertState } | null;
}

/** Names beside the ends of the lines. */
export interface LineEnd {
  readonly gas: string;
  /** Instead of the gas's name, for a second line of the same gas. */
  readonly label?: string;
  readonly t: number;
  readonly value: number;
  readonly text: string;
}
