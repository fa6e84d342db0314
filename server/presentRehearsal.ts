/** A rehearsal as the contract has it: what its chambers have come to, and the load per day of those that are done. */
import type { Rehearsal, RehearsedAlert, RehearsedChamber } from '../shared/contract/rehearsal.ts';
import type { RehearsalRow, RehearsedTask } from '../shared/db/rehearsals.ts';
import { iso } from './instant.ts';
import { rounded } from './present.ts';

const DAY_MS = 86_400_000;
/** From less than an hour nothing is said of a day. */
const LEAST_DAYS = 1 / 24;

const NOTHING = { from: null, to: null, asIs: [], asChanged: [], gained: [], lost: [], moved: [] };

const chamberOf = ({ chamber, state, problem, scans, result }: RehearsedTask): RehearsedChamber => ({
  chamber,
  state,
  problem,
  scans: scans ?? 0,
  ...(result ?? NOTHING),
});

const stateOf = (chambers: readonly RehearsedChamber[]): Rehearsal['state'] => {
  if (chambers.some(({ state }) => state === 'waiting')) return 'waiting';
  return chambers.some(({ state }) => state === 'done') ? 'done' : 'failed';
};

/** Calls in the counted time: what stood before it called before it. */
const calls = (alerts: readonly RehearsedAlert[], fromMs: number): number =>
  alerts.filter(({ raisedAt }) => Date.parse(raisedAt) >= fromMs).length;

const perDay = (chambers: readonly RehearsedChamber[]): Rehearsal['perDay'] => {
  const load = { asIs: 0, asChanged: 0, days: 0 };
  for (const { state, from, to, asIs, asChanged } of chambers) {
    if (state !== 'done' || from === null || to === null) continue;
    const fromMs = Date.parse(from);
    const days = (Date.parse(to) - fromMs) / DAY_MS;
    if (days < LEAST_DAYS) continue;
    load.asIs += calls(asIs, fromMs) / days;
    load.asChanged += calls(asChanged, fromMs) / days;
    load.days = Math.max(load.days, days);
  }
  if (load.days === 0) return null;
  return { asIs: rounded(load.asIs), asChanged: rounded(load.asChanged), days: rounded(load.days) };
};

export const presentRehearsal = (row: RehearsalRow, tasks: readonly RehearsedTask[]): Rehearsal => {
  const chambers = tasks.filter(({ rehearsal }) => rehearsal === row.id).map(chamberOf);
  return {
    id: row.id,
    askedAt: iso(row.askedAt),
    askedBy: row.askedBy,
    request: row.request,
    state: stateOf(chambers),
    chambers,
    perDay: perDay(chambers),
  };
};
