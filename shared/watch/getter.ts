/**
 * A getter that loses its capacity lets carbon monoxide, nitrogen and hydrogen rise over weeks, and leaves methane and
 * argon, which it never pumped, where they are (common practice). Daily medians are held against each other: what moves
 * the analyser or the hall moves both groups. Nitrogen must rise: a warm surface gives off the others as well.
 */
import { theilSen } from '../analysis/fits/theilSen.ts';
import type { GasEstimate } from '../analysis/types.ts';
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import { median } from './channels.ts';
import { followFault } from './faults.ts';
import type { Memory } from './memory.ts';
import { gasName } from './patterns.ts';
import type { WatchEvent, WatchInput } from './types.ts';
import { capitalise, list, number, times } from './wording.ts';

export const PUMPED = ['CO', 'N2', 'H2'] as const;
export const NOT_PUMPED = ['CH4', 'Ar'] as const;
const GASES = [...PUMPED, ...NOT_PUMPED] as const;

export interface GetterDay {
  /** Days since 1970. */
  readonly day: number;
  /** Median of log10 Pa in order of `GASES`; null: not detected. */
  readonly log10: readonly (number | null)[];
}

export interface GetterBook {
  readonly days: readonly GetterDay[];
  /** Readings of the day that goes on, a few in order of time. */
  readonly open?: {
    readonly day: number;
    readonly atMs: number;
    readonly rows: readonly (readonly (number | null)[])[];
  };
}

const DAY_MS = 86_400_000;
const MOST_DAYS = 42;
const LEAST_DAYS = 14;
const READINGS_PER_DAY = 8;
const LEAST_READINGS = 4;
/** The rise of what is pumped over what is not, in decades over the record, that is worth a call. */
const LEAST_DECADES = 0.15;
const CONFIDENCE = 0.99;
const CAUSE = 'getter';

export function followGetter(memory: Memory, { analysis, scan, peaks }: WatchInput): WatchEvent[] {
  if (memory.state !== 'base' || memory.settling || memory.overTime.pumpDown.run !== null) return [];
  const isCause = memory.standing.some(({ cause }) => cause === CAUSE);
  if (!peaks.scaled || memory.standing.some(({ cause, direction }) => cause !== CAUSE && direction !== null)) return [];
  const { getter } = memory.overTime;
  const day = Math.floor(scan.atMs / DAY_MS);
  const open = getter.open?.day === day ? getter.open : null;
  if (open && scan.atMs - open.atMs < DAY_MS / READINGS_PER_DAY) return [];
  const row = GASES.map((gas) => reading(analysis.gases, gas));
  const closed = open === null && getter.open ? dayOf(getter.open) : null;
  const days = closed ? [...getter.days, closed].slice(-MOST_DAYS) : getter.days;
  memory.overTime.getter = { days, open: { day, atMs: scan.atMs, rows: [...(open?.rows ?? []), row] } };
  if (closed === null) return [];
  // A fit costs more than a scan: only where carbon monoxide has risen at all.
  const loss = isCause || hasRisen(days) ? lossOf(days) : null;
  return followFault(memory, scan.atMs, {
    signature: 'pumping-loss',
    cause: CAUSE,
    on: loss?.clear ?? false,
    off: isCause && (loss === null || loss.decades < LEAST_DECADES / 2),
    sureness: 'more likely than not',
    priority: 'low',
    gases: loss === null ? ['CO', 'N2'] : risenOf(loss),
    ...(loss === null ? { summary: '', evidence: [] } : said(loss, days)),
    alternatives: [
      {
        signature: 'carbon-oxides',
        why: `A part that grows warmer gives off the same gases but for nitrogen. ${SIGNATURES_BY_ID['carbon-oxides'].settles}`,
      },
    ],
  });
}

const ENDS = 5;

function hasRisen(days: readonly GetterDay[]): boolean {
  if (days.length < LEAST_DAYS) return false;
  const middle = (some: readonly GetterDay[]) => median(some.map(({ log10 }) => log10[0] ?? Number.NaN));
  return middle(days.slice(-ENDS)) - middle(days.slice(0, ENDS)) > LEAST_DECADES / 2;
}

function reading(gases: readonly GasEstimate[], gas: string): number | null {
  const estimate = gases.find((entry) => entry.gas === gas);
  return estimate?.detected && estimate.valuePa > 0 ? Math.round(1000 * Math.log10(estimate.valuePa)) / 1000 : null;
}

function dayOf({ day, rows }: NonNullable<GetterBook['open']>): GetterDay | null {
  if (rows.length < LEAST_READINGS) return null;
  return {
    day,
    log10: GASES.map((_, i) => {
      const values = rows.map((row) => row[i]!).filter((value) => value !== null);
      return values.length * 2 > rows.length ? Math.round(1000 * median(values)) / 1000 : null;
    }),
  };
}

export interface GetterLoss {
  /** Rise of the pumped over the others over the record, decades. */
  readonly decades: number;
  /** Per week, with its interval. */
  readonly perWeek: number;
  readonly low: number;
  readonly high: number;
  /** Per gas, decades per week, of those that are seen. */
  readonly gases: readonly {
    readonly gas: string;
    readonly perWeek: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly clear: boolean;
}

/** Null while there are too few days, or one of the two groups is not seen. */
export function lossOf(days: readonly GetterDay[]): GetterLoss | null {
  if (days.length < LEAST_DAYS) return null;
  const weeks = (entries: readonly GetterDay[]) => entries.map(({ day }) => day / 7);
  const gases = GASES.flatMap((gas, i) => {
    const seen = days.filter(({ log10 }) => log10[i] !== null);
    if (seen.length < LEAST_DAYS) return [];
    const fit = theilSen(
      weeks(seen),
      seen.map(({ log10 }) => log10[i]!),
      CONFIDENCE,
    );
    return fit === null ? [] : [{ gas: gas as string, perWeek: fit.slope, low: fit.low, high: fit.high }];
  });
  const slopeOf = (gas: string) => gases.find((entry) => entry.gas === gas);
  const others = gases.filter(({ gas }) => (NOT_PUMPED as readonly string[]).includes(gas));
  const [co, n2] = PUMPED.map(slopeOf);
  if (!co || others.length === 0) return null;
  const other = (GASES as readonly string[]).indexOf(others[0]!.gas);
  const both = days.filter(({ log10 }) => log10[0] !== null && log10[other] !== null);
  const fit = theilSen(
    weeks(both),
    both.map(({ log10 }) => log10[0]! - log10[other]!),
    CONFIDENCE,
  );
  if (fit === null) return null;
  const span = (days.at(-1)!.day - days[0]!.day) / 7;
  const second = n2 !== undefined && n2.low > 0;
  const isStill = others.every(({ perWeek }) => perWeek < co.perWeek / 3);
  const decades = fit.slope * span;
  const clear = fit.low > 0 && co.low > 0 && second && isStill && decades > LEAST_DECADES;
  return { decades, perWeek: fit.slope, low: fit.low, high: fit.high, gases, clear };
}

/** What it pumps and what has risen. */
const risenOf = ({ gases }: GetterLoss): string[] =>
  gases.filter(({ gas, low }) => (PUMPED as readonly string[]).includes(gas) && low > 0).map(({ gas }) => gas);

function said(loss: GetterLoss, days: readonly GetterDay[]) {
  const { decades, perWeek, low, high, gases } = loss;
  const others = gases.filter(({ gas }) => (NOT_PUMPED as readonly string[]).includes(gas));
  const finite = (value: number) => (Number.isFinite(value) ? value : null);
  const span = days.at(-1)!.day - days[0]!.day;
  return {
    summary: `${capitalise(list(risenOf(loss).map(gasName)))} rise against ${list(others.map(({ gas }) => gasName(gas)))}, carbon monoxide ${times(10 ** decades)} over ${span}\u00a0days: a getter is losing its capacity. More likely than not.`,
    evidence: [
      {
        name: 'Carbon monoxide over methane or argon, decades per week',
        value: perWeek,
        low: finite(low),
        high: finite(high),
        unit: '1/week',
        expected: 'about 0',
        verdict: 'what the getter pumps rises, what it does not stays',
      },
      ...gases.map((entry) => ({
        name: `${entry.gas}, decades per week`,
        value: entry.perWeek,
        low: finite(entry.low),
        high: finite(entry.high),
        unit: '1/week',
        expected: null,
        verdict:
          entry.low > 0 ? 'rises' : entry.high < 0 ? 'falls' : `within ${number(Math.abs(entry.perWeek))} of still`,
      })),
    ],
  };
}
