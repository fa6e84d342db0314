import { MutationCache, QueryCache, QueryClient } from '@tanstack/react-query';
import { RefusedError } from './ask.ts';

/** Weather (no answer, 502, 503) is worth another try; a clear no is not. */
export const isWeather = (error: unknown): boolean =>
  error instanceof RefusedError && (error.status === 0 || error.status >= 502);
const TRIES_IN_BAD_WEATHER = 2;
/** The event stream says when an answer is out of date; this only bounds what it may have missed. */
const FRESH_MS = 15_000;

const hasEnded = (error: unknown): boolean => error instanceof RefusedError && error.status === 401;

export function makeClient(): QueryClient {
  // The session has ended: asking who we are again leads to the sign-in page.
  const askWhoWeAre = () => void client.invalidateQueries({ queryKey: ['session'] });
  const client: QueryClient = new QueryClient({
    queryCache: new QueryCache({
      onError: (error, question) => {
        if (hasEnded(error) && question.queryKey[0] !== 'session') askWhoWeAre();
      },
    }),
    mutationCache: new MutationCache({
      onError: (error) => {
        if (hasEnded(error)) askWhoWeAre();
      },
    }),
    defaultOptions: {
      // The line to the server is watched by ourselves: a browser that takes itself to be offline may still reach it.
      mutations: { networkMode: 'always' },
      queries: {
        networkMode: 'always',
        staleTime: FRESH_MS,
        refetchOnWindowFocus: false,
        retry: (failures, error) => failures < TRIES_IN_BAD_WEATHER && isWeather(error),
      },
    },
  });
  return client;
}
