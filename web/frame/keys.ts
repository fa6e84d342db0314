import { useEffect, useRef } from 'react';
import { usePreferences } from './preferences.ts';

export type KeyBindings = Readonly<Record<string, (() => void) | undefined>>;

/** A second key of a pair (`g` then `a`) must follow within this time. */
const PAIR_PATIENCE_MS = 1_500;

const TYPING = 'input, textarea, select, [contenteditable="true"]';

const NAMES: Readonly<Record<string, string>> = {
  ArrowDown: 'down',
  ArrowUp: 'up',
  ArrowLeft: 'left',
  ArrowRight: 'right',
  Enter: 'enter',
  Escape: 'escape',
};

/** The name under which a key is bound: `j`, `down`, `shift+enter`; null when the key is not ours. */
export function keyName(event: KeyboardEvent): string | null {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return null;
  if (event.key === 'Enter' && event.shiftKey) return 'shift+enter';
  return NAMES[event.key] ?? event.key;
}

/** Keys that a focused control uses itself are left to it. */
function belongsToControl(event: KeyboardEvent): boolean {
  const target = event.target;
  if (!(target instanceof Element)) return false;
  if (target.closest(TYPING)) return true;
  if (target.closest('dialog[open]')) return true;
  return (
    (event.key === 'Enter' || event.key === ' ') && target.closest('a, button, summary') !== null && !event.shiftKey
  );
}

/** Binds keys for as long as the component is there. A pair is written `g a`. */
export function useKeys(bindings: KeyBindings): void {
  const { keys: enabled } = usePreferences();
  const latest = useRef(bindings);
  latest.current = bindings;
  useEffect(() => {
    if (!enabled) return;
    let first: { key: string; at: number } | null = null;
    const onKey = (event: KeyboardEvent) => {
      const key = keyName(event);
      if (key === null || event.defaultPrevented || belongsToControl(event)) return;
      const pair = first && Date.now() - first.at < PAIR_PATIENCE_MS ? `${first.key} ${key}` : null;
      first = key === 'g' ? { key, at: Date.now() } : null;
      const act = (pair && latest.current[pair]) || (pair ? undefined : latest.current[key]);
      if (!act) return;
      first = null;
      event.preventDefault();
      act();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [enabled]);
}
