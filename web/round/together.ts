import type { AlertGroup } from '../../shared/contract/alerts.ts';
import type { Round, RoundLine } from '../../shared/contract/round.ts';
import type { Priority } from '../../shared/contract/words.ts';
import type { AreaRows } from './rows.ts';

/** Chambers whose worst alert belongs to one group: said once. */
export interface Together {
  readonly group: AlertGroup;
  readonly lines: readonly RoundLine[];
  /** Where it stands: the area of its first member. */
  readonly area: string;
}

/** What needs a person in an area, as it is read: chambers, and groups of them. */
export type NeedEntry = { readonly line: RoundLine } | { readonly together: Together };

const DAY_MS = 86_400_000;
/** A group begins with its first member, which may be older than the alert that is worst now. */
const LOOK_BACK_MS = 2 * DAY_MS;
const LEAST_TOGETHER = 2;

/** From when on groups are asked for; null: fewer than two chambers need a person, so none can be together. */
export function askedFrom(round: Round): number | null {
  const times = round.areas
    .flatMap(({ chambers }) => chambers)
    .filter(({ health }) => health === 'attention')
    .flatMap(({ worst }) => (worst ? [Date.parse(worst.raisedAt)] : []));
  return times.length < LEAST_TOGETHER ? null : Math.min(...times) - LOOK_BACK_MS;
}

/** Only what needs a person is folded, and only where two or more of a group are on the page. */
export function togetherOf(areas: readonly AreaRows[], groups: readonly AlertGroup[]): readonly Together[] {
  const need = areas.flatMap((rows) => rows.need);
  const taken = new Set<string>();
  return groups.flatMap((group): Together[] => {
    const alerts = new Set(group.alerts);
    const lines = need.filter(({ id, worst }) => worst !== null && alerts.has(worst.id) && !taken.has(id));
    const [first] = lines;
    if (first === undefined || lines.length < LEAST_TOGETHER) return [];
    for (const { id } of lines) taken.add(id);
    return [{ group, lines, area: first.area }];
  });
}

const RANK: Readonly<Record<Priority, number>> = { high: 0, medium: 1, low: 2 };
const NOTHING_RAISED = 3;
const rankOf = (entry: NeedEntry): number =>
  'together' in entry
    ? RANK[entry.together.group.priority]
    : entry.line.worst
      ? RANK[entry.line.worst.priority]
      : NOTHING_RAISED;

/** Worst first; of the same priority groups stand before chambers, and chambers in the server's order. */
export function needOf(rows: AreaRows, together: readonly Together[]): readonly NeedEntry[] {
  const folded = new Set(together.flatMap(({ lines }) => lines.map(({ id }) => id)));
  const here = together.filter(({ area }) => area === rows.area.id).map((one): NeedEntry => ({ together: one }));
  const alone = rows.need.filter(({ id }) => !folded.has(id)).map((line): NeedEntry => ({ line }));
  if (here.length === 0) return alone;
  return [...here, ...alone].sort((a, b) => rankOf(a) - rankOf(b));
}

/** Rows that a selection walks through, in the order in which they are read; a closed group is one step over. */
export const walkWith = (
  areas: readonly AreaRows[],
  together: readonly Together[],
  opened: ReadonlySet<string>,
): readonly RoundLine[] =>
  areas.flatMap((rows) => [
    ...needOf(rows, together).flatMap((entry) =>
      'line' in entry ? [entry.line] : opened.has(entry.together.group.id) ? entry.together.lines : [],
    ),
    ...rows.hand,
    ...rows.blind,
    ...rows.changed,
    ...rows.rest,
  ]);
