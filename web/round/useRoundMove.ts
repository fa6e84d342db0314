import { useMutation, useQueryClient } from '@tanstack/react-query';
import { refusalText } from '../alerts/useMove.ts';

/** What may look different after a move of a round or of its handover. */
const TOUCHED = ['round', 'rounds', 'signed round', 'handover'];

export interface RoundMove<T> {
  /** Does nothing while the server is still asked. */
  readonly run: () => void;
  readonly busy: boolean;
  /** Undefined until it has been done. */
  readonly result: T | undefined;
  /** Said where the move was tried, by `Refused`: it is read aloud by itself. */
  readonly refused: string | null;
}

/** A move of a round or of an entry: nothing is shown as done before the server has said so. */
export function useRoundMove<T>(act: () => Promise<T>, done?: (result: T) => void): RoundMove<T> {
  const client = useQueryClient();
  const mutation = useMutation({
    mutationFn: act,
    onSuccess: (result) => done?.(result),
    onSettled: () => Promise.all(TOUCHED.map((key) => client.invalidateQueries({ queryKey: [key] }))),
  });
  return {
    run: () => {
      if (!mutation.isPending) mutation.mutate();
    },
    busy: mutation.isPending,
    result: mutation.data,
    refused: mutation.error ? refusalText(mutation.error) : null,
  };
}
