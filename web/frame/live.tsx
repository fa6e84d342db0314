import { useQueryClient } from '@tanstack/react-query';
import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react';
import type { Round } from '../../shared/contract/round.ts';
import { changesBetween, makeFreshener } from '../api/freshness.ts';
import { openSharedStream, sharedWorker } from '../api/sharedStream.ts';
import type { Stream, StreamState } from '../api/stream.ts';
import { browserParts } from '../api/streamParts.ts';
import { words } from '../strings/frame.ts';
import { announce } from './announce.ts';
import { useSession } from './site.ts';

export interface Line extends StreamState {
  readonly tryNow: () => void;
  /** How many chambers say something else than before the line was down; null: it was not, or that is not known yet. */
  readonly caughtUp: { readonly changes: number } | null;
}

const OPENING: Line = { status: 'opening', cutSince: null, nextTryAt: null, tryNow: () => {}, caughtUp: null };
const LineContext = createContext<Line>(OPENING);
export const useLine = (): Line => useContext(LineContext);

/** "Caught up" has been read after this time. */
const CAUGHT_UP_SHOWN_MS = 12_000;
/** A page that was in the background for so long may have been put to sleep: what it shows is read again. */
const ASLEEP_MS = 60_000;
/** The line is back, and the server cannot answer yet. */
const READ_AGAIN_AFTER_MS = 2_000;

/** Keeps the page joined to the one event stream of its browser, and the page's answers fresh. */
export function LiveLine({ children }: { readonly children: ReactNode }) {
  const client = useQueryClient();
  // Where the stream was before anything else was asked: read once, because all that is shown was asked after it.
  const [after] = useState(useSession().events);
  const stream = useRef<Stream | null>(null);
  const [state, setState] = useState<StreamState>(OPENING);
  const [caughtUp, setCaughtUp] = useState<Line['caughtUp']>(null);

  useEffect(() => {
    const freshener = makeFreshener(client);
    let status: StreamState['status'] = 'opening';
    /** What was shown when the line went down; undefined: it is up, and all has been caught up with. */
    let before: { readonly round: Round | undefined } | undefined;
    let later: ReturnType<typeof setTimeout> | undefined;
    let hiddenAt = 0;

    const catchUp = async () => {
      clearTimeout(later);
      const all = await freshener.readAgain();
      if (before === undefined || status !== 'live') return;
      // A server that is only just back may still refuse: then nothing is known of what has changed.
      if (!all) {
        later = setTimeout(() => void catchUp(), READ_AGAIN_AFTER_MS);
        return;
      }
      const changes = changesBetween(before.round, client.getQueryData<Round>(['round']));
      before = undefined;
      setCaughtUp({ changes });
      announce(words.isBack(changes), 'polite');
      later = setTimeout(() => setCaughtUp(null), CAUGHT_UP_SHOWN_MS);
    };

    const onState = (next: StreamState) => {
      status = next.status;
      setState(next);
      if (status === 'cut-off') {
        // A stream that is refused does not say why: it may be that the session has ended.
        void client.invalidateQueries({ queryKey: ['session'] });
        clearTimeout(later);
        setCaughtUp(null);
        if (before === undefined) announce(words.isCutOff, 'polite');
        before ??= { round: client.getQueryData<Round>(['round']) };
      } else if (status === 'live' && before !== undefined) void catchUp();
    };

    const onVisibility = () => {
      if (document.visibilityState === 'hidden') hiddenAt = Date.now();
      else if (hiddenAt > 0 && Date.now() - hiddenAt > ASLEEP_MS) void freshener.readAgain();
    };
    document.addEventListener('visibilitychange', onVisibility);

    stream.current = openSharedStream({ after, onEvent: freshener.take, onState }, browserParts, sharedWorker());
    return () => {
      document.removeEventListener('visibilitychange', onVisibility);
      clearTimeout(later);
      freshener.close();
      stream.current?.close();
    };
  }, [client, after]);

  const line = useMemo(() => ({ ...state, caughtUp, tryNow: () => stream.current?.tryNow() }), [state, caughtUp]);
  return <LineContext value={line}>{children}</LineContext>;
}
