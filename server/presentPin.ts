/** Pinned baselines, and what is usual now, as the contract has them. */
import type { Pin, UsualGases, UsualNow } from '../shared/contract/rehearsal.ts';
import type { OperatingState } from '../shared/contract/words.ts';
import type { PinRow, PinWithView } from '../shared/db/pins.ts';
import type { BaselineView } from '../shared/watch/types.ts';
import { iso, isoOrNull } from './instant.ts';
import { rounded } from './present.ts';

const usualOf = (gases: BaselineView['gases']): UsualGases =>
  Object.fromEntries(
    Object.entries(gases).flatMap(([gas, { medianLog10Pa, halfWidthDecades, scans }]) => {
      const at = (decades: number) => 10 ** (medianLog10Pa + decades);
      const [median, low, high] = [at(0), at(-halfWidthDecades), at(halfWidthDecades)];
      if (![median, low, high].every(Number.isFinite)) return [];
      return [[gas, { median: rounded(median), low: rounded(low), high: rounded(high), scans }]];
    }),
  );

export const presentPin = (row: PinRow & Partial<Pick<PinWithView, 'view'>>): Pin => ({
  id: row.id,
  chamber: row.chamber,
  analyser: row.analyser,
  version: row.version,
  operatingState: row.operatingState,
  from: iso(row.scansFrom),
  to: iso(row.scansTo),
  note: row.note,
  state: row.state,
  problem: row.problem,
  scans: row.scanCount,
  setAt: iso(row.setAt),
  setBy: row.setBy,
  validFrom: isoOrNull(row.validFrom),
  decidedAt: isoOrNull(row.decidedAt),
  decidedBy: row.decidedBy,
  decisionNote: row.decisionNote,
  ...(row.view ? { usual: usualOf(row.view.gases) } : {}),
});

export interface BaselineRow {
  readonly state: OperatingState;
  readonly since: Date;
  readonly until: Date;
  readonly gases: BaselineView['gases'];
}

export const presentUsual = ({ state, since, until, gases }: BaselineRow): UsualNow => ({
  operatingState: state,
  since: iso(since),
  until: iso(until),
  gases: usualOf(gases),
});
