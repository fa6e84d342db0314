import { useEffect } from 'react';
import { useMay, useSession } from './site.ts';

/** A display on a wall reads with a token that may only look: it is seen from across the room, and nobody presses it. */
export function useDisplay(): void {
  const { who } = useSession();
  const mayMove = useMay('operator');
  const afar = who?.kind === 'token' && !mayMove;
  useEffect(() => {
    if (afar) document.documentElement.dataset.seen = 'afar';
    else delete document.documentElement.dataset.seen;
  }, [afar]);
}
