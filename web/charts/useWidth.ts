import { type RefObject, useLayoutEffect, useRef, useState } from 'react';
import { flushSync } from 'react-dom';

/** A4 in px of 1/96 inch, less its edges of 12 mm, the margin of 72 px and the 13 px beside the rule. */
const PAPER_WIDTH = Math.floor(((210 - 2 * 12) / 25.4) * 96) - 72 - 13;

/** The width that a figure has on this screen, or on paper: charts are drawn for it, never stretched nor cut. */
export function useWidth<T extends HTMLElement>(first = 900): [RefObject<T | null>, number] {
  const element = useRef<T>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const node = element.current;
    if (!node) return;
    let printing = false;
    const measure = () => {
      const wide = Math.floor(node.clientWidth);
      if (wide > 0 && !printing) setWidth(wide);
    };
    // The sheet is laid out as soon as the listener returns: the figure has to be redrawn by then.
    const toPaper = () => {
      printing = true;
      flushSync(() => setWidth(PAPER_WIDTH));
    };
    const toScreen = () => {
      printing = false;
      measure();
    };
    measure();
    window.addEventListener('beforeprint', toPaper);
    window.addEventListener('afterprint', toScreen);
    const observer = typeof ResizeObserver === 'undefined' ? null : new ResizeObserver(measure);
    observer?.observe(node);
    return () => {
      observer?.disconnect();
      window.removeEventListener('beforeprint', toPaper);
      window.removeEventListener('afterprint', toScreen);
    };
  }, []);
  return [element, width];
}
