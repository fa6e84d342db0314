import { useMutation, useQueryClient } from '@tanstack/react-query';
import { RefusedError } from '../api/ask.ts';
import { announce } from '../frame/announce.ts';
import { words } from '../strings/underway.ts';
import type { Draft } from './underway.ts';

export interface Move {
  readonly run: (act: () => Promise<unknown>) => void;
  readonly busy: boolean;
  /** Why it was refused; null when it was not. */
  readonly refused: string | null;
  readonly forget: () => void;
}

/** What a move of an alert may have changed. */
const TOUCHED = ['round', 'alerts', 'alert', 'chamber', 'examples', 'handover'];

/**
 * One move of an alert by a person. With a draft the alert is drawn at once as it will be, with a word that it is not
 * yet; a refusal brings the old state back, says who was first, and the words stay with the person. Whatever happened,
 * the page asks again what is true.
 */
export function useMove(done?: () => void, draft?: Draft): Move {
  const client = useQueryClient();
  const mutation = useMutation({
    mutationFn: (act: () => Promise<unknown>) => act(),
    onMutate: () => {
      draft?.refuse(null);
      draft?.sending(true);
    },
    onSuccess: () => done?.(),
    onError: (error) => {
      draft?.sending(false);
      draft?.refuse(refusalText(error));
      announce(refusalText(error), 'assertive');
    },
    onSettled: async () => {
      await Promise.all(TOUCHED.map((key) => client.invalidateQueries({ queryKey: [key] })));
      draft?.sending(false);
    },
  });
  return {
    run: mutation.mutate,
    busy: mutation.isPending,
    refused: mutation.error ? refusalText(mutation.error) : null,
    forget: mutation.reset,
  };
}

export function refusalText(error: unknown): string {
  if (!(error instanceof RefusedError)) return words.notArrivedPage;
  if (error.status === 409) return words.notYours(error.message.replace(/^This alert cannot be moved: /, ''));
  if (error.status === 0) return words.notArrivedServer;
  const fields = error.problem?.errors?.map(({ path, problem }) => `${path}: ${problem}`).join('; ');
  return fields ? `${error.message} ${fields}` : error.message;
}
