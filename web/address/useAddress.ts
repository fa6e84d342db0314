import { useCallback, useEffect, useMemo } from 'react';
import { useLocation, useSearch } from 'wouter';
import { type Codec, readAddress, writeAddress } from './codec.ts';
import { viewIsOpen } from './frozen.ts';

/** The state of a view, kept in its address: typing replaces the entry in the history, choosing adds one. */
export function useAddress<T>(codec: Codec<T>): [T, (change: Partial<T>, how?: 'push' | 'replace') => void] {
  const search = useSearch();
  const [path, go] = useLocation();
  useEffect(() => viewIsOpen(codec), [codec]);
  const value = useMemo(() => readAddress(codec, search), [codec, search]);
  const change = useCallback(
    (part: Partial<T>, how: 'push' | 'replace' = 'push') => {
      // From the address of this moment, so that two changes in a row do not undo each other.
      const now = readAddress(codec, window.location.search);
      const next = writeAddress(codec, { ...now, ...part });
      go(next === '' ? path : `${path}?${next}`, { replace: how === 'replace' });
    },
    [codec, go, path],
  );
  return [value, change];
}
