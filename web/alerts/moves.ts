import type { Alert } from '../../shared/contract/alerts.ts';
import type { AlertState } from '../../shared/contract/words.ts';

/** Which moves a state allows; the server decides, this only keeps the page from offering what would be refused. */
export const mayAcknowledge = (state: AlertState): boolean =>
  state === 'unacknowledged' || state === 'returned-unacknowledged';
export const mayShelve = (state: AlertState): boolean => mayAcknowledge(state) || state === 'acknowledged';
export const isOpen = (state: AlertState): boolean => state !== 'normal';
export const mayLeaveService = (state: AlertState): boolean => isOpen(state) && state !== 'out-of-service';

/** States in which an alert calls nobody although it is open. */
export const PUT_ASIDE = ['shelved', 'suppressed', 'out-of-service'] as const;
export type PutAside = (typeof PUT_ASIDE)[number];
export const isPutAside = (state: AlertState): state is PutAside => (PUT_ASIDE as readonly string[]).includes(state);

const RANK: Readonly<Record<Alert['priority'], number>> = { high: 0, medium: 1, low: 2 };

/** Open first, then by priority, then the newest. */
export const byWeight = (a: Alert, b: Alert): number =>
  Number(isOpen(b.state)) - Number(isOpen(a.state)) ||
  RANK[a.priority] - RANK[b.priority] ||
  Date.parse(b.raisedAt) - Date.parse(a.raisedAt);
