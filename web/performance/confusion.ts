import type { Confusion } from '../../shared/contract/performance.ts';
import type { Signature } from '../../shared/contract/words.ts';

type Cell = Confusion['cells'][number];

export interface ConfusionRow {
  readonly claimed: Signature;
  readonly cells: readonly (Cell | null)[];
  readonly total: number;
  /** Of those of which it can be said. */
  readonly right: number;
}

export interface ConfusionTable {
  readonly found: readonly string[];
  readonly rows: readonly ConfusionRow[];
}

/** A trapped volume lets go what was shut in: that air or gas came in was right. */
const SAME: Readonly<Record<string, readonly string[]>> = { 'trapped-volume': ['air-leak', 'gas-inleak'] };
export const isRight = (claimed: string, found: string): boolean =>
  claimed === found || (SAME[found]?.includes(claimed) ?? false);

/** Nobody could tell: neither right nor wrong. */
export const UNKNOWN = 'not-found';

/** Rows: what was claimed. Columns: what was found. Only words that occur; the frequent ones first, "not found" last. */
export function confusionTable({ cells }: Confusion): ConfusionTable {
  const totals = new Map<string, number>();
  for (const { verified, alerts } of cells) totals.set(verified, (totals.get(verified) ?? 0) + alerts.length);
  const found = [...totals.keys()].sort(
    (a, b) => Number(a === UNKNOWN) - Number(b === UNKNOWN) || (totals.get(b) ?? 0) - (totals.get(a) ?? 0),
  );
  const rows = [...new Set(cells.map(({ claimed }) => claimed))].map((claimed): ConfusionRow => {
    const own = cells.filter((cell) => cell.claimed === claimed);
    const sum = (list: readonly Cell[]) => list.reduce((total, { alerts }) => total + alerts.length, 0);
    return {
      claimed,
      cells: found.map((word) => own.find(({ verified }) => verified === word) ?? null),
      total: sum(own),
      right: sum(own.filter(({ verified }) => isRight(claimed, verified))),
    };
  });
  return { found, rows: rows.sort((a, b) => b.total - a.total) };
}
