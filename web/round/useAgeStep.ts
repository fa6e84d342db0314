import { type RefObject, useEffect, useState } from 'react';
import { useNow } from '../frame/clock.ts';

/** Near the screen an age counts each second; far from it, where only a reader or a search comes, it is this coarse. */
const FAR_SECONDS = 15;

/** Pieces of the page that have come near or gone far since the last second. */
const moved = new Map<(far: boolean) => void, boolean>();

/**
 * Every how many seconds the ages of a piece of the round are counted on; `part` is the piece that the browser
 * leaves out of layout and paint, or an element inside of it. What has moved while the page was scrolled is taken up
 * with the next second, when the ages are drawn anyway: scrolling itself draws nothing.
 */
export function useAgeStep(part: RefObject<Element | null>): number {
  const [far, setFar] = useState(false);
  useEffect(() => {
    const piece = part.current?.closest('.row, .few');
    if (!piece) return;
    // The browser says when it leaves a piece out, and when it takes it in again.
    const onChange = (event: Event) => {
      if (event.target === piece && 'skipped' in event) moved.set(setFar, event.skipped === true);
    };
    piece.addEventListener('contentvisibilityautostatechange', onChange);
    return () => {
      piece.removeEventListener('contentvisibilityautostatechange', onChange);
      moved.delete(setFar);
    };
  }, [part]);
  return far ? FAR_SECONDS : 1;
}

/** Stands once on a page whose pieces ask `useAgeStep`; draws nothing. */
export function AgePace() {
  const now = useNow();
  // biome-ignore lint/correctness/useExhaustiveDependencies: each second, whatever the time is
  useEffect(() => {
    for (const [tell, far] of moved) tell(far);
    moved.clear();
  }, [now]);
  return null;
}
