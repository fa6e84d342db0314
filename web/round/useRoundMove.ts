import { useMutation, useQueryClient } from '@tanstack/react-query';
import { refusalText } from '../alerts/useMove.ts';
import { announce } from '../frame/announce.ts';

/** What may look different after a move of a round or of its handover. */
const TOUCHED = ['round', 'rounds', 'signed round', 'handover'];

/** A move of a round or of an entry: nothing is shown as done before the server has said so. */
export function useRoundMove<T>(act: () => Promise<T>, done?: (result: T) => void) {
  const client = useQueryClient();
  const mutation = useMutation({
    mutationFn: act,
    onSuccess: (result) => done?.(result),
    onError: (error) => announce(refusalText(error), 'assertive'),
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
