/**
 * Whether the newest scan can be believed, said at once. An alert about the data waits for its on-delay, so that it calls
 * nobody in vain; the health of a chamber need not wait: after the first scan that fails a check it claims to know nothing.
 *
 * – The scan repeats the one before, more often than its source has done so far.
 * – It holds no value at all.
 * – Peaks end flat; or two share the top height; or the highest has fallen and stays to its last digit.
 * – It differs from the scan before by far more than noise does, all over the spectrum.
 *
 * What a reading is doubted for is written beside it, as a note.
 */
import type { Note } from './relearn.ts';
import { number } from './wording.ts';

export const DOUBT = 'doubtful-scan';

/** Scatter of one scan against the usual (ratio of variances) that noise itself reaches once in many thousand scans. */
const DOUBTFUL_SCATTER = 3;

export interface DoubtfulData {
  /** Equal scans in a row. */
  readonly equal: number;
  readonly isEmpty: boolean;
  readonly isCutOff: boolean;
}

/** The reason to doubt this scan's values; null: none. */
export function doubtfulData({ equal, isEmpty, isCutOff }: DoubtfulData): string | null {
  if (isEmpty) return 'The last scan came without a single value: nothing is known of the chamber now.';
  if (equal > 1)
    return `The last ${equal} scans are equal in every value: they may be one scan that is sent again, and what is shown may be old.`;
  if (isCutOff) return 'The highest peaks of the last scan may be cut off: what is shown may be less than there is.';
  return null;
}

/** `ratio`: of variances; null while it is usual. */
export const doubtfulScatter = (ratio: number): string | null =>
  ratio > DOUBTFUL_SCATTER
    ? `The last scans scatter ${number(Math.sqrt(ratio))} times as much as usual: small peaks cannot be seen in them.`
    : null;

export function noteDoubt(notes: Note[], text: string | null): void {
  if (text !== null && !notes.some(({ code }) => code === DOUBT)) notes.push({ code: DOUBT, text });
}

/** Of the notes of a reading; null: it is not doubted. */
export const doubtOf = (notes: readonly Note[]): string | null =>
  notes.find(({ code }) => code === DOUBT)?.text ?? null;
