import { useEffect } from 'react';

/** The name of the page in the browser's own bar. */
export function useTitle(title: string): void {
  useEffect(() => {
    document.title = `${title} · Ullage`;
  }, [title]);
}
