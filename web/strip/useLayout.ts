import { useMemo, useSyncExternalStore } from 'react';
import { type Layout, layoutFor, narrowLayout, PITCH, WATCHED } from './layout.ts';

/** Narrow pages: what margin, rule and edges take away from the width of the window. */
const NARROW_EDGES = 58;
export const NARROW_BELOW = 760;
/** At rest nothing is labelled, so the marks may stand closer: name, strip and age share a line. */
const REST_PITCH_WIDEST = 14;
const REST_PITCH_LEAST = 10;
/** What a name and an age need beside the strip. */
const REST_WORDS = 150;
const restPitch = (available: number): number =>
  Math.max(REST_PITCH_LEAST, Math.min(REST_PITCH_WIDEST, Math.floor((available - REST_WORDS) / WATCHED.length)));

const subscribe = (listener: () => void) => {
  window.addEventListener('resize', listener);
  return () => window.removeEventListener('resize', listener);
};
export const useWindowWidth = (): number => useSyncExternalStore(subscribe, () => window.innerWidth);
export const useNarrow = (): boolean => useWindowWidth() <= NARROW_BELOW;

/** The places of the gases on this screen: redrawn closer together where it is narrow, never shrunk. */
export function useLayout(ownGases: readonly string[], use: 'row' | 'rest'): Layout {
  const width = useWindowWidth();
  const key = ownGases.join(',');
  return useMemo(() => {
    const own = key === '' ? [] : key.split(',');
    if (width > NARROW_BELOW) return layoutFor(own, PITCH);
    const available = width - NARROW_EDGES;
    if (use === 'rest') return layoutFor([], restPitch(available));
    return narrowLayout(own, available);
  }, [key, width, use]);
}
