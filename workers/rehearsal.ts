/**
 * One chamber of a rehearsal: what a changed setting would have done to its alerts of the last days, by the code that
 * judges live. In pieces; each is written with how far it has come and what the result says so far.
 */
import type { InnerTask } from '../shared/contract/calibration.ts';
import type { RehearsedAlert } from '../shared/contract/rehearsal.ts';
import {
  MOST_REHEARSED_SCANS,
  type RehearsalResult,
  type RehearsalRow,
  readRehearsal,
} from '../shared/db/rehearsals.ts';
import type { Workshop } from './analyseChamber.ts';
import { type Ground, readGround } from './rehearsalGround.ts';
import { carriedOf, endRehearsed, readResult, writeProgress } from './rehearsalRows.ts';
import { rehearseAlerts } from './rehearseAlerts.ts';
import { compareAlerts, standingSince } from './rehearsedAlerts.ts';
import { type Held, type LimitsCarried, rehearseLimits } from './rehearseLimits.ts';
import { rehearseScans, type ScansCarried } from './rehearseScans.ts';
import { countScans } from './storedScans.ts';
import { finishTask, type WaitingTask } from './taskRows.ts';

type Asked = Extract<InnerTask, { kind: 'rehearsal' }>;

interface Alerts {
  readonly asIs: readonly RehearsedAlert[];
  readonly asChanged: readonly RehearsedAlert[];
}

interface SoFar {
  readonly to: Date;
  readonly ofScans: number;
}

const resultOf = (ground: Ground, alerts: Alerts, { to, ofScans }: SoFar): RehearsalResult => {
  const { countedFromMs, notes } = ground;
  const asIs = standingSince(alerts.asIs, countedFromMs);
  const asChanged = standingSince(alerts.asChanged, countedFromMs);
  return {
    from: new Date(countedFromMs).toISOString(),
    to: new Date(Math.max(countedFromMs, to.getTime())).toISOString(),
    ofScans,
    notes: [...notes],
    asIs,
    asChanged,
    ...compareAlerts(asIs, asChanged),
  };
};

/** While these stood, no limit was judged: nothing was known, or pascal meant nothing. */
const readHeld = ({ database: { sql } }: Workshop, { chamber, analyser, from, to }: Ground['period']) => sql<Held[]>`
  select signature, (extract(epoch from raised_at) * 1000)::float8 as "fromMs",
    (extract(epoch from coalesce(returned_at, closed_at)) * 1000)::float8 as "untilMs"
  from alerts where chamber = ${chamber} and coalesce(analyser, ${analyser}) = ${analyser}
    and signature in ('frozen', 'impossible-pressure') and raised_at <= ${to}
    and coalesce(returned_at, closed_at, ${to}) >= ${from}`;

const countReadings = async ({ database: { sql } }: Workshop, { chamber, analyser, from, to }: Ground['period']) => {
  const [row] = await sql<{ n: number }[]>`
    select count(*)::int as n from readings
    where chamber = ${chamber} and analyser = ${analyser} and at between ${from} and ${to}`;
  return row?.n ?? 0;
};

const placeOf = ({ doneTo, doneScan }: WaitingTask) =>
  doneTo !== null && doneScan !== null ? { at: doneTo, scanId: doneScan } : null;

const piece = async (shop: Workshop, task: WaitingTask, ground: Ground) => {
  const { period, asIs, asChanged, closes, calibrationAt } = ground;
  const after = placeOf(task);
  if (ground.way === 'scans') {
    const { gases } = asIs.chamber;
    const whole = { period, calibrationAt, gases, asIs, asChanged, closes };
    return await rehearseScans(shop, whole, { after, carried: carriedOf<ScansCarried>(task) });
  }
  const calibration = calibrationAt(period.to.getTime());
  const held = await readHeld(shop, period);
  const whole = { period, closes, held, asIs: { ...asIs, calibration }, asChanged: { ...asChanged, calibration } };
  return await rehearseLimits(shop.database.sql, whole, { after, carried: carriedOf<LimitsCarried>(task) });
};

const refusalOf = (carried: ScansCarried | LimitsCarried): string | null =>
  'refused' in carried ? (carried as ScansCarried).refused : null;

/** From piece to piece. */
const goOn = async (shop: Workshop, task: WaitingTask, ground: Ground): Promise<void> => {
  const before = await readResult(shop, task);
  const count = () =>
    ground.way === 'scans' ? countScans(shop.database.sql, ground.period) : countReadings(shop, ground.period);
  const ofScans = before?.ofScans ?? (await count());
  const fail = (problem: string) => finishTask(shop.database, task, { ok: false, problem });
  if (ofScans === 0) return await fail('There are no scans in this period.');
  if (ofScans > MOST_REHEARSED_SCANS)
    return await fail(
      `The period holds ${ofScans} scans; at most ${MOST_REHEARSED_SCANS} are rehearsed. Ask for fewer days.`,
    );
  const done = await piece(shop, task, ground);
  if (done === null) {
    const result = before && { ...before, to: ground.period.to.toISOString() };
    return await endRehearsed(shop, task, { scans: task.scans ?? 0, result });
  }
  const { carried, place, scans } = done;
  const refused = refusalOf(carried);
  if (refused !== null) return await fail(refused);
  const alerts = { asIs: carried.asIs.alerts, asChanged: carried.asChanged.alerts };
  const result = resultOf(ground, alerts, { to: place.at, ofScans });
  await writeProgress(shop, task, { carried, place, scans, result, basis: ground.basis });
};

const fromAlerts = async (
  shop: Workshop,
  task: WaitingTask,
  { ground, row }: { ground: Ground; row: RehearsalRow },
) => {
  const { change } = row.request;
  if (change.kind !== 'rationalisation') throw new Error('Only a rationalisation is rehearsed from alerts');
  const alerts = await rehearseAlerts(shop.database.sql, ground.period, change);
  const result = resultOf(ground, alerts, { to: ground.period.to, ofScans: 0 });
  await endRehearsed(shop, task, { scans: 0, result });
};

/** One piece of it. */
export const rehearsePiece = async (shop: Workshop, task: WaitingTask, { rehearsal }: Asked): Promise<void> => {
  const fail = (problem: string) => finishTask(shop.database, task, { ok: false, problem });
  const row = await readRehearsal(shop.database.sql, rehearsal);
  if (row === null) return await fail('The rehearsal is not there any more.');
  const ground = await readGround(shop, task, row);
  if (typeof ground === 'string') return await fail(ground);
  if (task.basis !== null && task.basis !== ground.basis)
    return await fail('Settings, calibration or catalogue changed while this was being worked out. Ask again.');
  if (ground.way === 'alerts') return await fromAlerts(shop, task, { ground, row });
  await goOn(shop, task, ground);
};
