/** Who changed what. The line is written in the same statement or transaction as the change. */
import type { Sql } from 'postgres';

export interface AuditLine {
  at: Date;
  by: string;
  what: string;
  detail: Record<string, unknown>;
}

/** The insert, as a fragment for a larger statement or a statement of its own. */
export const audited = (sql: Sql, { at, by, what, detail }: AuditLine) =>
  sql`insert into audit (at, by, what, detail) values (${at}, ${by}, ${what}, ${sql.json(detail as never)})`;
