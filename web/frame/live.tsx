import { useQueryClient } from '@tanstack/react-query';
import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react';
import type { Round } from '../../shared/contract/round.ts';
import { ask } from '../api/ask.ts';
import { changesBetween, makeFreshener } from '../api/freshness.ts';
import { openStream, type Stream, type StreamState } from '../api/stream.ts';
import { announce } from './announce.ts';

export interface Line extends StreamState {
  readonly tryNow: () => void;
  /** What came while the line was down; null when it was not. */
  readonly caughtUp: { readonly changes: number } | null;
}

const OPENING: Line = { status: 'opening', cutSince: null, nextTryAt: null, tryNow: () => {}, caughtUp: null };
const LineContext = createContext<Line>(OPENING);
export const useLine = (): Line => useContext(LineContext);

/** "Caught up" has been read after this time. */
const CAUGHT_UP_SHOWN_MS = 12_000;

/** Keeps the one event stream of the page open and the page's answers fresh. */
export function LiveLine({ children }: { readonly children: ReactNode }) {
  const client = useQueryClient();
  const stream = useRef<Stream | null>(null);
  const [state, setState] = useState<StreamState>(OPENING);
  const [caughtUp, setCaughtUp] = useState<Line['caughtUp']>(null);

  useEffect(() => {
    const freshener = makeFreshener(client);
    let wasCut = false;
    let shown: ReturnType<typeof setTimeout> | undefined;

    const resynchronise = async () => {
      const before = client.getQueryData<Round>(['round']);
      await client.invalidateQueries();
      setCaughtUp({ changes: changesBetween(before, client.getQueryData<Round>(['round'])) });
      announce('The line to the server is back.', 'polite');
      shown = setTimeout(() => setCaughtUp(null), CAUGHT_UP_SHOWN_MS);
    };

    stream.current = openStream({
      open: (address) => new EventSource(address),
      probe: (patienceMs) => ask('/health/live', { signal: AbortSignal.timeout(patienceMs) }).then(() => undefined),
      onEvent: freshener.take,
      onState: (next) => {
        setState(next);
        // A stream that is refused does not say why: it may be that the session has ended.
        if (next.status === 'cut-off') void client.invalidateQueries({ queryKey: ['session'] });
        if (next.status === 'cut-off' && !wasCut) {
          wasCut = true;
          clearTimeout(shown);
          setCaughtUp(null);
          announce('Cut off from the server. What you see is getting older.', 'polite');
        }
        if (next.status === 'live' && wasCut) {
          wasCut = false;
          void resynchronise();
        }
      },
      now: () => Date.now(),
      random: Math.random,
    });
    return () => {
      clearTimeout(shown);
      freshener.close();
      stream.current?.close();
    };
  }, [client]);

  const line = useMemo(() => ({ ...state, caughtUp, tryNow: () => stream.current?.tryNow() }), [state, caughtUp]);
  return <LineContext value={line}>{children}</LineContext>;
}
