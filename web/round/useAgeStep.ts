import { type RefObject, useEffect, useState } from 'react';

/** Near the screen an age counts each second; far from it, where only a reader or a search comes, it is this coarse. */
const FAR_SECONDS = 15;

/** Every how many seconds the ages of a row are counted on: `part` is an element inside the row. */
export function useAgeStep(part: RefObject<Element | null>): number {
  const [far, setFar] = useState(false);
  useEffect(() => {
    const row = part.current?.closest('.row, .l');
    if (!row) return;
    // The browser says when it leaves a row out of layout and paint, and when it takes it in again.
    const onChange = (event: Event) => {
      if (event.target === row && 'skipped' in event) setFar(event.skipped === true);
    };
    row.addEventListener('contentvisibilityautostatechange', onChange);
    return () => row.removeEventListener('contentvisibilityautostatechange', onChange);
  }, [part]);
  return far ? FAR_SECONDS : 1;
}
