/** What the database knows of calls, lives and closings of alerts in a span of time. */
import type { Sql } from 'postgres';
import type { AlertState, Priority, Signature } from '../../shared/contract/words.ts';

export interface Asked {
  readonly from: Date;
  readonly to: Date;
  readonly area: string | null;
  readonly responder: string | null;
}

export interface AlertFact {
  readonly id: string;
  readonly chamber: string;
  readonly area: string;
  readonly tags: readonly string[];
  readonly signature: Signature;
  readonly priority: Priority;
  readonly state: AlertState;
  readonly active: boolean;
  readonly raisedAt: Date;
  readonly returnedAt: Date | null;
  readonly summary: string;
  readonly sureness: string;
  readonly shelvedUntil: Date | null;
  readonly shelvedReason: string | null;
  readonly shelvings: number;
  readonly suppressedSince: Date | null;
  readonly suppressedReason: string | null;
  readonly outOfServiceUntil: Date | null;
  readonly outOfServiceReason: string | null;
  readonly outOfServiceBy: string | null;
  readonly closedAt: Date | null;
  readonly closedCause: string | null;
  readonly verified: string | null;
  /** A person has made a move with it. */
  readonly touched: boolean;
}

export interface CallFact {
  readonly at: Date;
  readonly alert: string;
  /** The call with which the alert began. */
  readonly first: boolean;
}

const inScope = (sql: Sql, { area, responder }: Asked) => sql`
  ${area === null ? sql`` : sql`and c.area = ${area}`}
  ${responder === null ? sql`` : sql`and a.responder = ${responder}`}`;

/** Alerts that called, stood or were closed within the span, oldest first. */
export const readAlerts = (sql: Sql, asked: Asked) => sql<AlertFact[]>`
  select a.id, a.chamber, c.area, coalesce((select array_agg(t) from jsonb_array_elements_text(
      coalesce(c.document -> 'tags', '[]')) as t), '{}') as tags,
    a.signature, a.priority, a.state, a.active, a.raised_at as "raisedAt", a.returned_at as "returnedAt",
    a.finding ->> 'summary' as summary, a.finding ->> 'sureness' as sureness,
    a.shelved_until as "shelvedUntil", a.shelved_reason as "shelvedReason", a.shelvings,
    a.suppressed_since as "suppressedSince", a.suppressed_reason as "suppressedReason",
    a.out_of_service_until as "outOfServiceUntil", a.out_of_service_reason as "outOfServiceReason",
    a.out_of_service_by as "outOfServiceBy", a.closed_at as "closedAt", a.closed_cause as "closedCause", a.verified,
    exists (select 1 from alert_moves m where m.chamber = a.chamber and m.alert = a.id and m.by is not null) as touched
  from alerts a join chambers c on c.id = a.chamber
  where a.raised_at <= ${asked.to}
    and (a.state <> 'normal' or a.raised_at >= ${asked.from} or a.closed_at between ${asked.from} and ${asked.to}
      or exists (select 1 from alert_moves m where m.chamber = a.chamber and m.alert = a.id and m.at >= ${asked.from}))
    ${inScope(sql, asked)}
  order by a.raised_at, a.id`;

/** Moves of the watch or the clock that asked a person: an alert became unacknowledged. */
export const readCalls = (sql: Sql, asked: Asked) => sql<CallFact[]>`
  select m.at, m.alert, m.move = 'raise' as first
  from alert_moves m join alerts a on a.chamber = m.chamber and a.id = m.alert join chambers c on c.id = m.chamber
  where m.at >= ${asked.from} and m.at < ${asked.to} and m.by is null and m.to_state = 'unacknowledged'
    and m.from_state is distinct from 'unacknowledged'
    ${inScope(sql, asked)}
  order by m.at, m.alert, m.seq`;

export interface Watched {
  readonly chambers: number;
  /** The oldest scan of them; null: none yet. */
  readonly since: Date | null;
}

export const readWatched = async (sql: Sql, { area }: Asked): Promise<Watched> => {
  const [row] = await sql<Watched[]>`
    select count(*)::int as chambers,
      (select min(s.at) from chamber_states s join chambers d on d.id = s.chamber
        where true ${area === null ? sql`` : sql`and d.area = ${area}`}) as since
    from chambers where retired_at is null ${area === null ? sql`` : sql`and area = ${area}`}`;
  return row ?? { chambers: 0, since: null };
};
