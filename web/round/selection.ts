import { useCallback, useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import type { Round, RoundLine } from '../../shared/contract/round.ts';
import { useKeys } from '../frame/keys.ts';

/** `j` and `k` walk through the rows, Enter opens. */
export function useSelection(walk: readonly RoundLine[]): [string | null, (id: string) => void] {
  const [chosen, setSelected] = useState<string | null>(null);
  // Who comes at 06:00 can press a key at once: the worst row that needs a person is selected from the start.
  const first = walk[0];
  const selected = chosen ?? (first && first.worst !== null ? first.id : null);
  const [, go] = useLocation();
  const step = (by: number) => {
    const at = walk.findIndex((line) => line.id === selected);
    const next = walk[Math.max(0, Math.min(walk.length - 1, at === -1 || chosen === null ? 0 : at + by))];
    if (next) setSelected(next.id);
  };
  const open = selected === null ? undefined : () => go(`/chambers/${encodeURIComponent(selected)}`);
  useKeys({
    j: () => step(1),
    down: () => step(1),
    k: () => step(-1),
    up: () => step(-1),
    enter: open,
  });
  return [selected, useCallback((id: string) => setSelected(id), [])];
}

/** Alerts that were not there when the page opened: their flags are hoisted once. */
export function useNewAlerts(round: Round): (line: RoundLine) => boolean {
  const atFirst = useRef<Set<string> | null>(null);
  const alerts = round.areas.flatMap((area) => area.chambers.flatMap((line) => (line.worst ? [line.worst.id] : [])));
  useEffect(() => {
    atFirst.current ??= new Set(alerts);
  });
  return useCallback(
    (line) => line.worst !== null && atFirst.current !== null && !atFirst.current.has(line.worst.id),
    [],
  );
}
