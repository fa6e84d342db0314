/** What the watch claimed against what people found, over the closed alerts of a span. */

import { SURENESS } from '../../shared/contract/alerts.ts';
import type { Confusion } from '../../shared/contract/performance.ts';
import { iso } from '../instant.ts';
import type { AlertFact } from './facts.ts';

/** Nobody could tell: says nothing for or against the claim. */
const NOT_FOUND = 'not-found';
/** Found to be air that was shut in: the claim of air was right. */
const SAME: Readonly<Record<string, readonly string[]>> = { 'trapped-volume': ['air-leak', 'gas-inleak'] };

export const isRight = (claimed: string, verified: string): boolean =>
  claimed === verified || (SAME[verified]?.includes(claimed) ?? false);

export function confusionOf(alerts: readonly AlertFact[], { from, to }: { from: Date; to: Date }): Confusion {
  const closed = alerts.filter(({ closedAt }) => closedAt !== null && closedAt >= from && closedAt < to);
  const verified = closed.flatMap((alert) => (alert.verified === null ? [] : [{ ...alert, verified: alert.verified }]));
  const judged = verified.filter((alert) => alert.verified !== NOT_FOUND);
  const right = judged.filter((alert) => isRight(alert.signature, alert.verified));
  const cells = new Map<string, { claimed: AlertFact['signature']; verified: string; alerts: string[] }>();
  for (const alert of verified) {
    const key = `${alert.signature}\n${alert.verified}`;
    const cell = cells.get(key) ?? { claimed: alert.signature, verified: alert.verified, alerts: [] };
    cell.alerts.push(alert.id);
    cells.set(key, cell);
  }
  return {
    from: iso(from),
    to: iso(to),
    closed: closed.length,
    verified: verified.length,
    cells: [...cells.values()].sort((a, b) => b.alerts.length - a.alerts.length || (a.claimed < b.claimed ? -1 : 1)),
    rightFirst: judged.length === 0 ? null : right.length / judged.length,
    sureness: SURENESS.map((word) => ({
      word,
      alerts: judged.filter(({ sureness }) => sureness === word).length,
      right: right.filter(({ sureness }) => sureness === word).length,
    })),
  };
}
