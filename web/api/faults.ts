import { RefusedError } from './ask.ts';

/** `/value`, `body.value` and `value` all speak of the field `value`. */
export const fieldOf = (path: string): string =>
  path
    .split(/[/.]/)
    .filter((part) => part !== '')
    .pop() ?? '';

/** What the server has against one field of what it was asked; null: nothing. */
export function faultIn(error: unknown, field: string): string | null {
  const faults = error instanceof RefusedError ? (error.problem?.errors ?? []) : [];
  return faults.find(({ path }) => fieldOf(path) === field)?.problem ?? null;
}

/** Understood, and impossible: the fields say why; trying again would say the same. */
export const isImpossible = (error: unknown): error is RefusedError =>
  error instanceof RefusedError && error.status === 422 && (error.problem?.errors ?? []).length > 0;
