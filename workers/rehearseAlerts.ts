/** A change that moves no threshold, over the alerts that there were: what changes is how they would have been called. */
import type { Sql } from 'postgres';
import type { RehearsedAlert, RehearsedChange } from '../shared/contract/rehearsal.ts';
import type { Priority, Signature } from '../shared/contract/words.ts';
import type { Period } from './storedScans.ts';

interface Move {
  alert: string;
  signature: Signature;
  gases: string[];
  priority: Priority;
  at: Date;
  move: string;
}

const BEGINS = new Set(['raise', 're-raise']);
const ENDS = new Set(['return', 'close']);

/** Every time the condition of an alert came and went, by the audit of its moves, oldest first. */
const readStandings = async (sql: Sql, { chamber, from, to }: Period): Promise<RehearsedAlert[]> => {
  const moves = await sql<Move[]>`
    select m.alert, a.signature, a.gases, a.priority, m.at, m.move from alert_moves m
    join alerts a on a.chamber = m.chamber and a.id = m.alert
    where m.chamber = ${chamber} and m.at <= ${to} and a.raised_at <= ${to}
      and (a.state <> 'normal' or coalesce(a.closed_at, a.returned_at, a.acknowledged_at, a.raised_at) >= ${from})
    order by a.raised_at, a.id, m.seq`;
  const standings: (RehearsedAlert & { alert: string })[] = [];
  for (const { alert, signature, gases, priority, at, move } of moves) {
    const last = standings.at(-1);
    const open = last?.alert === alert && last.returnedAt === null ? last : null;
    if (BEGINS.has(move) && !open)
      standings.push({ alert, signature, gases, priority, raisedAt: at.toISOString(), returnedAt: null });
    else if (ENDS.has(move) && open) open.returnedAt = at.toISOString();
  }
  return standings.map(({ alert: _, ...standing }) => standing);
};

type Rationalised = Extract<RehearsedChange, { kind: 'rationalisation' }>;

/** What only the clock raises has the priority of its record; that of the others is worked out from the scans. */
const CLOCKED: ReadonlySet<Signature> = new Set(['silent']);
export const isClocked = (signature: Signature): boolean => CLOCKED.has(signature);

export const rehearseAlerts = async (sql: Sql, period: Period, change: Rationalised) => {
  const asIs = await readStandings(sql, period);
  const { priority } = change.record;
  const asChanged = asIs.map((alert) =>
    alert.signature === change.signature && isClocked(alert.signature) ? { ...alert, priority } : alert,
  );
  return { asIs, asChanged, scans: 0 };
};
