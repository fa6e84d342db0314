/**
 * One scan, judged on its own: accepted as it will be stored, or refused with the reason in words. The schema checks
 * the shape; here is what a schema cannot say.
 */
import type { Scan } from '../../shared/contract/scans.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { toPascal } from '../../shared/units.ts';
import { parseInstant } from '../instant.ts';
import { fieldProblems, type SchemaError } from '../schemaWords.ts';
import { isStorable } from '../storableText.ts';
import { digestOf } from './digest.ts';

export interface KnownAnalyser {
  readonly chamber: string;
  readonly principle: 'quadrupole' | 'ion trap';
  readonly retired: boolean;
}

export interface AcceptedScan {
  readonly chamber: string;
  readonly analyser: string;
  readonly id: string;
  readonly atMs: number;
  readonly seconds: number;
  readonly averages: number;
  readonly masses: Scan['masses'];
  /** NaN: not measured. */
  readonly values: Float64Array;
  readonly unit: Scan['unit'];
  readonly detector: 'faraday' | 'multiplier' | null;
  readonly totalPressure: { readonly value: number; readonly unit: PressureUnit } | null;
  readonly state: Scan['state'] | null;
  readonly temperatureC: number | null;
  readonly packed: Buffer;
  readonly digest: Buffer;
}

export interface Judge {
  readonly now: Date;
  readonly analysers: ReadonlyMap<string, KnownAnalyser>;
  /** Analysers that the sender may send for; null: all. */
  readonly mayFor: ReadonlySet<string> | null;
  readonly fitsSchema: { (value: unknown): boolean; errors?: readonly SchemaError[] | null };
}

/** Contract: a gateway's clock may be ahead by so much. */
const MOST_AHEAD_MS = 5 * 60_000;
/** Before this no scan that anyone will send was taken; such a time is a clock that was never set. */
const EARLIEST_MS = Date.UTC(1990, 0, 1);
/** Steps of the mass scale are counted; a hundredth of a step is rounding, more is a mistake. */
const STEP_TOLERANCE = 0.01;

const OPTIONAL = ['averages', 'detector', 'totalPressure', 'state', 'temperatureC'] as const;

/** `null` in an optional field says the same as leaving it out. */
const withoutNulls = (value: unknown): unknown => {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  const record = value as Record<string, unknown>;
  if (!OPTIONAL.some((field) => record[field] === null)) return value;
  return Object.fromEntries(
    Object.entries(record).filter(([key, one]) => one !== null || !(OPTIONAL as readonly string[]).includes(key)),
  );
};

const countOfMasses = (masses: Scan['masses']): number | string => {
  if (Array.isArray(masses)) {
    const seen = new Set(masses);
    if (seen.size !== masses.length) {
      const twice = masses.find((mass, i) => masses.indexOf(mass) !== i);
      return `masses: ${twice} stands twice in the list`;
    }
    return masses.length;
  }
  const { first, last, perUnit } = masses;
  if (first > last) return `masses: first (${first}) is above last (${last})`;
  const steps = (last - first) * perUnit;
  if (Math.abs(steps - Math.round(steps)) > STEP_TOLERANCE)
    return `masses: from ${first} to ${last} is not a whole number of steps of 1/${perUnit}`;
  return Math.round(steps) + 1;
};

const problemOfTime = (atMs: number, now: Date): string | null => {
  if (atMs > now.getTime() + MOST_AHEAD_MS)
    return `at: ${new Date(atMs).toISOString()} is in the future; the server's clock says ${now.toISOString()}`;
  if (atMs < EARLIEST_MS) return 'at: is before 1990; is the clock of the analyser set?';
  return null;
};

const problemOfUnit = (scan: Scan, principle: KnownAnalyser['principle']): string | null => {
  if (principle === 'ion trap') {
    if (scan.unit === 'A')
      return 'unit: an ion trap gives relative signals, not amperes; send unit "1" with totalPressure';
    if (scan.totalPressure === undefined) return 'totalPressure: is missing; an ion trap needs one with each scan';
  }
  if (scan.unit === '1' && scan.totalPressure === undefined)
    return 'totalPressure: is missing; relative signals (unit "1") need one with each scan';
  return null;
};

const problemOfTotal = (total: Scan['totalPressure']): string | null => {
  if (total === undefined) return null;
  if (total.value <= 0)
    return 'totalPressure/value: must be greater than 0; leave it out where the gauge reads nothing';
  return Number.isFinite(toPascal(total.value, total.unit)) ? null : 'totalPressure/value: is too large';
};

const schemaProblem = (errors: readonly SchemaError[]): string => {
  const [first] = fieldProblems(errors, 'body');
  if (first === undefined) return 'is not a scan';
  return first.path === '/' ? `a scan ${first.problem}` : `${first.path.slice(1)}: ${first.problem}`;
};

/** @returns the scan as it will be stored, or what is wrong with it */
export const judgeScan = (sent: unknown, judge: Judge): AcceptedScan | string => {
  const value = withoutNulls(sent);
  if (!judge.fitsSchema(value)) return schemaProblem(judge.fitsSchema.errors ?? []);
  const scan = value as Scan;
  if (!isStorable(scan.id)) return 'id: holds a character that cannot be stored (NUL or half a surrogate pair)';
  const known = judge.analysers.get(scan.analyser);
  if (known === undefined) return `analyser: there is no analyser ${JSON.stringify(scan.analyser)} in the fleet`;
  if (judge.mayFor !== null && !judge.mayFor.has(scan.analyser))
    return `analyser: this token was not made for ${scan.analyser}`;
  if (known.retired) return `analyser: ${scan.analyser} is retired; put it back into the fleet first`;
  const atMs = parseInstant(scan.at);
  if (atMs === null) return 'at: must be a time as in RFC 3339, with Z or an offset';
  const count = countOfMasses(scan.masses);
  if (typeof count === 'string') return count;
  if (scan.values.length !== count) return `values: there are ${scan.values.length} values for ${count} masses`;
  const problem =
    problemOfTime(atMs, judge.now) ?? problemOfUnit(scan, known.principle) ?? problemOfTotal(scan.totalPressure);
  if (problem !== null) return problem;
  const accepted = {
    chamber: known.chamber,
    analyser: scan.analyser,
    id: scan.id,
    atMs,
    seconds: scan.seconds,
    averages: scan.averages ?? 1,
    masses: scan.masses,
    // Adding 0 turns -0 into 0: they are the same measurement.
    values: Float64Array.from(scan.values, (one) => (one === null ? Number.NaN : one + 0)),
    unit: scan.unit,
    detector: scan.detector ?? null,
    totalPressure: scan.totalPressure ?? null,
    state: scan.state ?? null,
    temperatureC: scan.temperatureC ?? null,
  };
  return { ...accepted, ...digestOf(accepted) };
};
