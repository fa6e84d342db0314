import type { Consequence } from '../../shared/contract/rationalisation.ts';
import type { Priority } from '../../shared/contract/words.ts';
import { words } from '../strings/rationalisation.ts';

/** What a person on the floor can answer in, and a shift: the columns of the matrix, minutes. */
export const PROMPT_MINUTES = 30;
export const SHIFT_MINUTES = 480;

export const COLUMNS = ['prompt', 'shift', 'later'] as const;
export type Column = (typeof COLUMNS)[number];
export const COLUMN_TITLE: Readonly<Record<Column, string>> = {
  prompt: words.withinHalfAnHour,
  shift: words.withinAShift,
  later: 'later',
};
export const SEVERITIES = ['severe', 'major', 'minor'] as const satisfies readonly Consequence[];

/** The same as the server judges by: shown while a person types, so that nobody is told only after sending. */
export const MATRIX: Readonly<Record<Consequence, Readonly<Record<Column, Priority>>>> = {
  severe: { prompt: 'high', shift: 'high', later: 'medium' },
  major: { prompt: 'high', shift: 'medium', later: 'low' },
  minor: { prompt: 'medium', shift: 'low', later: 'low' },
};

export const columnOf = (minutes: number): Column =>
  minutes <= PROMPT_MINUTES ? 'prompt' : minutes <= SHIFT_MINUTES ? 'shift' : 'later';

export const priorityByMatrix = (severity: Consequence, minutes: number): Priority =>
  MATRIX[severity][columnOf(minutes)];
