/** An alert as the contract has it. */
import type { Alert, AlertMove } from '../shared/contract/alerts.ts';
import type { AlertRow, MoveRow } from '../shared/db/alertLists.ts';
import { iso } from './instant.ts';

const isoMs = (ms: number): string => iso(new Date(ms));

/** @param group the group that it began in; null: it stands alone, or nobody has looked */
export const presentAlert = ({ life, finding, ...row }: AlertRow, group: string | null = null): Alert => ({
  id: row.id,
  chamber: row.chamber,
  ...(row.analyser === null ? {} : { analyser: row.analyser }),
  signature: row.signature,
  gases: [...row.gases],
  priority: row.priority,
  state: life.state,
  raisedAt: isoMs(life.raisedAtMs),
  returnedAt: life.returnedAtMs === null ? null : isoMs(life.returnedAtMs),
  acknowledged:
    life.acknowledged === null
      ? null
      : { by: life.acknowledged.by, at: isoMs(life.acknowledged.atMs), note: life.acknowledged.note },
  shelvedUntil: life.shelved === null ? null : isoMs(life.shelved.untilMs),
  closed:
    life.closed === null
      ? null
      : { by: life.closed.by, at: isoMs(life.closed.atMs), cause: life.closed.cause, note: life.closed.note },
  summary: finding.summary,
  sureness: finding.sureness,
  firstStep: finding.firstStep,
  settle: finding.settle,
  evidence: [...finding.evidence],
  ...(finding.leakRate ? { leakRate: finding.leakRate } : {}),
  alternatives: [...finding.alternatives],
  latched: life.latching && life.state !== 'normal',
  shelvings: life.shelvings,
  suppressed:
    life.suppressed === null ? null : { since: isoMs(life.suppressed.sinceMs), reason: life.suppressed.reason },
  outOfService:
    life.outOfService === null
      ? null
      : { until: isoMs(life.outOfService.untilMs), reason: life.outOfService.reason, by: life.outOfService.by },
  verified: life.closed?.verified ?? null,
  group,
});

export const presentMove = (move: MoveRow): AlertMove => ({ ...move, at: iso(move.at) });
