import { useMutation, useQueryClient } from '@tanstack/react-query';
import { RefusedError } from '../api/ask.ts';
import { announce } from '../frame/announce.ts';

export interface Move {
  readonly run: (act: () => Promise<unknown>) => void;
  readonly busy: boolean;
  /** Why it was refused; null when it was not. */
  readonly refused: string | null;
  readonly forget: () => void;
}

/**
 * One move of an alert by a person. Nothing is shown as done before the server has said so; a refusal says who
 * was first, and whatever happened the page asks again what is true.
 */
export function useMove(done?: () => void): Move {
  const client = useQueryClient();
  const mutation = useMutation({
    mutationFn: (act: () => Promise<unknown>) => act(),
    onSuccess: () => done?.(),
    onError: (error) => announce(refusalText(error), 'assertive'),
    onSettled: () =>
      Promise.all(
        ['round', 'alerts', 'alert', 'chamber', 'examples'].map((key) => client.invalidateQueries({ queryKey: [key] })),
      ),
  });
  return {
    run: mutation.mutate,
    busy: mutation.isPending,
    refused: mutation.error ? refusalText(mutation.error) : null,
    forget: mutation.reset,
  };
}

export function refusalText(error: unknown): string {
  if (!(error instanceof RefusedError)) return 'It did not arrive: something went wrong on this page.';
  if (error.status === 409) return `Not yours: ${error.message.replace(/^This alert cannot be moved: /, '')}`;
  if (error.status === 0) return 'It did not arrive: the server did not answer. Your words are still here.';
  const fields = error.problem?.errors?.map(({ path, problem }) => `${path}: ${problem}`).join('; ');
  return fields ? `${error.message} ${fields}` : error.message;
}
