/**
 * What PostgreSQL tells whoever listens, in the transaction that made it true: a message is heard only after the
 * commit, and may be lost while a listener reconnects, so every listener reads again after it has connected.
 */
import type { AlertState, Priority, Signature } from '../contract/words.ts';

export const EVENT_CHANNEL = 'ullage_events';

export type StoredEvent =
  | { readonly event: 'reading'; readonly chamber: string; readonly analyser: string; readonly at: string }
  | {
      readonly event: 'alert';
      readonly chamber: string;
      readonly id: string;
      readonly signature: Signature;
      readonly priority: Priority;
      readonly state: AlertState;
    }
  | { readonly event: 'round'; readonly area: string; readonly id: string }
  /** A session has ended, or a token was revoked: whoever listens as this person or token is asked again. Not for pages. */
  | { readonly event: 'access'; readonly login: string | null; readonly token: string | null };
