/**
 * Priority from what happens without a response and from the time that is left for one. Rows and columns of such a
 * matrix are common practice of rationalisation after ISA-18.2 / IEC 62682, which leave the bounds to the site; the bounds
 * here are our own: half an hour is what a person on the floor can answer in, eight hours is a shift.
 *
 * Few are high: the standards' guidance is about 5 % high, 15 % medium, 80 % low.
 */
import type { Consequence } from '../../contract/rationalisation.ts';
import type { Priority } from '../../contract/words.ts';

export const PROMPT_MINUTES = 30;
export const SHIFT_MINUTES = 8 * 60;

type Row = { readonly prompt: Priority; readonly shift: Priority; readonly later: Priority };

/** severe: people, equipment · major: product, availability, a blind chamber · minor: neither soon. */
export const PRIORITY_MATRIX: Readonly<Record<Consequence, Row>> = {
  severe: { prompt: 'high', shift: 'high', later: 'medium' },
  major: { prompt: 'high', shift: 'medium', later: 'low' },
  minor: { prompt: 'medium', shift: 'low', later: 'low' },
};

export function priorityByMatrix(severity: Consequence, timeToRespondMinutes: number): Priority {
  const row = PRIORITY_MATRIX[severity];
  if (timeToRespondMinutes <= PROMPT_MINUTES) return row.prompt;
  return timeToRespondMinutes <= SHIFT_MINUTES ? row.shift : row.later;
}
