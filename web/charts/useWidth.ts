import { type RefObject, useLayoutEffect, useRef, useState } from 'react';

/** The width that a figure has on this screen: charts are drawn for it, never stretched. */
export function useWidth<T extends HTMLElement>(first = 900): [RefObject<T | null>, number] {
  const element = useRef<T>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const node = element.current;
    if (!node) return;
    const measure = () => {
      const wide = Math.floor(node.clientWidth);
      if (wide > 0) setWidth(wide);
    };
    measure();
    if (typeof ResizeObserver === 'undefined') return;
    const observer = new ResizeObserver(measure);
    observer.observe(node);
    return () => observer.disconnect();
  }, []);
  return [element, width];
}
