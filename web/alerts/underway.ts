/**
 * What a person has begun about an alert and the server has not taken yet: words in a form, a move on its way, a
 * refusal. Kept beside the pages, because a row may move to another place, with its form, while somebody writes: what
 * they wrote must not go with it.
 */
import { useEffect, useMemo, useSyncExternalStore } from 'react';
import type { AlertState } from '../../shared/contract/words.ts';
import { words } from '../strings/underway.ts';

export type UnderwayKind = 'acknowledge' | 'shelve';

export interface Underway {
  readonly alert: string;
  readonly kind: UnderwayKind;
  readonly note: string;
  readonly sending: boolean;
  /** Why it was refused; null: it was not. */
  readonly refused: string | null;
  /** Forms that show it now. */
  readonly forms: number;
}

let all: readonly Underway[] = [];
const listeners = new Set<() => void>();

const isEmpty = ({ note, sending, refused, forms }: Underway): boolean =>
  note === '' && !sending && refused === null && forms === 0;

function change(alert: string, kind: UnderwayKind, to: (before: Underway) => Underway): void {
  const at = all.findIndex((one) => one.alert === alert && one.kind === kind);
  const before = all[at] ?? { alert, kind, note: '', sending: false, refused: null, forms: 0 };
  const others = all.filter((_, i) => i !== at);
  const after = to(before);
  all = isEmpty(after) ? others : [...others, after];
  for (const listener of listeners) listener();
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

export const forgetUnderway = (alert: string, kind: UnderwayKind): void =>
  change(alert, kind, ({ forms, ...before }) => ({ ...before, forms, note: '', sending: false, refused: null }));

export interface Draft {
  readonly note: string;
  readonly write: (note: string) => void;
  readonly sending: (on: boolean) => void;
  readonly refuse: (why: string | null) => void;
  /** It was taken, or the person let it go. */
  readonly forget: () => void;
}

/** The words of one form, found again wherever the form comes back. */
export function useDraft(alert: string, kind: UnderwayKind): Draft {
  const note = useSyncExternalStore(
    subscribe,
    () => all.find((one) => one.alert === alert && one.kind === kind)?.note ?? '',
  );
  useEffect(() => {
    change(alert, kind, (before) => ({ ...before, forms: before.forms + 1 }));
    return () => change(alert, kind, (before) => ({ ...before, forms: before.forms - 1 }));
  }, [alert, kind]);
  return useMemo(
    () => ({
      note,
      write: (text) => change(alert, kind, (before) => ({ ...before, note: text })),
      sending: (on) => change(alert, kind, (before) => ({ ...before, sending: on })),
      refuse: (why) => change(alert, kind, (before) => ({ ...before, refused: why })),
      forget: () => forgetUnderway(alert, kind),
    }),
    [note, alert, kind],
  );
}

/** What has lost its form: shown above the page until the person has seen to it. */
export function useLeftOver(): readonly Underway[] {
  const now = useSyncExternalStore(subscribe, () => all);
  return useMemo(
    () =>
      now.filter(({ forms, sending, note, refused }) => forms === 0 && !sending && (note !== '' || refused !== null)),
    [now],
  );
}

const BECOMES: Readonly<Record<UnderwayKind, AlertState>> = { acknowledge: 'acknowledged', shelve: 'shelved' };

/**
 * How an alert is drawn while a move of this person is on its way: as it will be, with a word that says that it is
 * not yet. A refusal brings the old state back by itself.
 */
export function useShownState(alert: string | undefined, state: AlertState): { state: AlertState; word: string } {
  const sending = useSyncExternalStore(subscribe, () => all.find((one) => one.alert === alert && one.sending)?.kind);
  return sending === undefined
    ? { state, word: state === 'normal' ? words.over : state }
    : { state: BECOMES[sending], word: words.underway[sending] };
}
