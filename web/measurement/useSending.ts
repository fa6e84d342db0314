import { useMutation, useQueryClient } from '@tanstack/react-query';
import { refusalText } from '../alerts/useMove.ts';
import { RefusedError } from '../api/ask.ts';
import { faultIn } from '../api/faults.ts';
import { announce } from '../frame/announce.ts';

export interface SendingState {
  readonly run: (act: () => Promise<unknown>) => void;
  readonly busy: boolean;
  /** What the server has against one field of the form; null: nothing. */
  readonly faultOf: (field: string) => string | null;
  /** Why it was refused as a whole, when no field of the form is to blame. */
  readonly refused: string | null;
  readonly requestId: string | null;
}

/** One request of a person. A refusal is told at the field that it is about; questions under `asks` are asked again. */
export function useSending(done?: () => void, asks: readonly string[] = ['measurement']): SendingState {
  const client = useQueryClient();
  const mutation = useMutation({
    mutationFn: (act: () => Promise<unknown>) => act(),
    onSuccess: () => done?.(),
    onError: (error) => announce(refusalOf(error), 'assertive'),
    onSettled: () => Promise.all(asks.map((key) => client.invalidateQueries({ queryKey: [key] }))),
  });
  const error = mutation.error;
  return {
    run: mutation.mutate,
    busy: mutation.isPending,
    faultOf: (field) => faultIn(error, field),
    refused: error ? refusalOf(error) : null,
    requestId: error instanceof RefusedError ? error.requestId : null,
  };
}

/** A conflict says who decided before; the server's sentence is all of it. */
const refusalOf = (error: unknown): string =>
  error instanceof RefusedError && error.status === 409 ? error.message : refusalText(error);
