/**
 * Series of partial pressures from stored readings, in buckets of time. PostgreSQL gathers the bytes of the asked gases
 * in one walk through the span; they become numbers here. A bucket keeps the least and the greatest of its values, so
 * that no spike is averaged away.
 */
import type { Sql } from 'postgres';
import { type Gap, gapsBetween } from './gaps.ts';

export interface SeriesPlace {
  readonly chamber: string;
  readonly analyser: string;
  readonly from: Date;
  readonly to: Date;
  /** Id of the task whose recomputed readings are meant; absent: the readings that were judged. */
  readonly recomputation?: string | undefined;
}

export interface BucketValue {
  /** Place of the bucket, from 0. */
  readonly bucket: number;
  /** Median, least and greatest of the scans that detected the gas, Pa; null: none did. */
  readonly medianPa: number | null;
  readonly minPa: number | null;
  readonly maxPa: number | null;
  /** Greatest upper limit of the scans that did not detect it, Pa; null: all did. */
  readonly limitPa: number | null;
}

export interface Series {
  /** First scan of each bucket that has one. */
  readonly times: ReadonlyMap<number, Date>;
  readonly gases: ReadonlyMap<string, readonly BucketValue[]>;
  /** Median of the scans' floors, Pa. */
  readonly floorPa: number | null;
  /** Where no scan is. */
  readonly gaps: readonly Gap[];
}

/** Least, middle and greatest; of an even count the mean of the two in the middle. */
export const middleAndExtremes = (values: ArrayLike<number>): { median: number; min: number; max: number } | null => {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  const [min, max, upper] = [sorted[0], sorted.at(-1), sorted[half]];
  if (min === undefined || max === undefined || upper === undefined) return null;
  const lower = sorted[half - 1];
  return { median: sorted.length % 2 === 1 || lower === undefined ? upper : (lower + upper) / 2, min, max };
};

/** Value, low and high of a gas, float32 each: the first 12 of its 16 bytes (see codec.ts). */
const BYTES_PER_GAS = 12;
/** Three times NaN: the gas was not looked for. */
const NOT_LOOKED_FOR = Buffer.from('0000c07f'.repeat(3), 'hex');
/** Time (s since 1970) and floor (Pa) of a scan, float64 each, as PostgreSQL sends them: big-endian. */
const BYTES_BEFORE = 16;

interface GatheredRow {
  scans: number;
  /** Of every scan: time, floor, the asked gases, then its bits of `detected`. */
  bytes: Buffer;
  /** Place of each asked gas in the list of these scans, from 1; null: not in it. */
  places: (number | null)[];
}

/** Where the readings of a place lie. */
const source = (sql: Sql, { chamber, analyser, recomputation, from, to }: SeriesPlace) =>
  recomputation === undefined
    ? {
        table: sql`readings`,
        within: sql`r.chamber = ${chamber} and r.analyser = ${analyser} and r.at between ${from} and ${to}`,
      }
    : {
        table: sql`recomputed_readings`,
        within: sql`r.chamber = ${chamber} and r.task = ${recomputation} and r.at between ${from} and ${to}`,
      };

/** One row per list of gases. Scans without an answer have no bits, so they stand apart. */
const gather = (sql: Sql, piece: SeriesPlace, gases: readonly string[]) => {
  const columns = gases
    .map(
      (_, k) =>
        sql`|| coalesce(substring(r.estimates from (p.places[${k + 1}::int] - 1) * 16 + 1 for ${BYTES_PER_GAS}::int), ${NOT_LOOKED_FOR}::bytea)`,
    )
    .reduce((all, one) => sql`${all} ${one}`, sql``);
  const { table, within } = source(sql, piece);
  return sql<GatheredRow[]>`
    with p as materialized (
      select id, (select array_agg(array_position(gases, gas) order by n)
        from unnest(${gases as string[]}::text[]) with ordinality as asked (gas, n)) as places
      from gas_lists
    )
    select g.scans, g.bytes, p.places from (
      select r.gas_list, count(*)::int as scans,
        string_agg(float8send(date_part('epoch', r.at)) || float8send(coalesce(r.floor_pa, 'NaN')) ${columns}
          || coalesce(r.detected, ''), ''::bytea) as bytes
      from ${table} r join p on p.id = r.gas_list
      where ${within}
      group by 1, r.estimates is null
    ) as g join p on p.id = g.gas_list`;
};

/** What one bucket holds. */
interface Bucket {
  firstMs: number;
  /** Per asked gas: values where it was detected, upper limits where it was not. */
  found: number[][];
  below: number[][];
}

interface Gathered {
  readonly buckets: Map<number, Bucket>;
  readonly timesMs: number[];
  readonly floors: number[];
  /** The bucket of an instant. */
  readonly bucketAt: (ms: number) => number;
}

const unpack = (row: GatheredRow, gases: number, into: Gathered): void => {
  const { bytes, scans, places } = row;
  const length = bytes.length / scans;
  const empty = () => Array.from({ length: gases }, (): number[] => []);
  for (let start = 0; start < bytes.length; start += length) {
    const ms = Math.round(bytes.readDoubleBE(start) * 1000);
    const floor = bytes.readDoubleBE(start + 8);
    const key = into.bucketAt(ms);
    const bucket = into.buckets.get(key) ?? { firstMs: ms, found: empty(), below: empty() };
    into.buckets.set(key, bucket);
    bucket.firstMs = Math.min(bucket.firstMs, ms);
    into.timesMs.push(ms);
    if (Number.isFinite(floor)) into.floors.push(floor);
    const bits = start + BYTES_BEFORE + gases * BYTES_PER_GAS;
    if (bits === start + length) continue;
    places.forEach((place, k) => {
      if (place === null) return;
      const at = start + BYTES_BEFORE + k * BYTES_PER_GAS;
      const detected = ((bytes[bits + ((place - 1) >> 3)] ?? 0) >> ((place - 1) & 7)) & 1;
      const number = bytes.readFloatLE(detected ? at : at + 8);
      if (Number.isFinite(number)) (detected ? bucket.found : bucket.below)[k]?.push(number);
    });
  }
};

/** A longer span is walked in pieces, each with the time and the memory of a statement of its own. */
const LONGEST_WALK_MS = 10 * 86_400_000;

/** Pieces of the span, a millisecond apart: times are kept to the millisecond. */
export const walks = (place: SeriesPlace): SeriesPlace[] => {
  const [from, to] = [place.from.getTime(), place.to.getTime()];
  const pieces: SeriesPlace[] = [];
  for (let start = from; start <= to; start += LONGEST_WALK_MS + 1)
    pieces.push({ ...place, from: new Date(start), to: new Date(Math.min(to, start + LONGEST_WALK_MS)) });
  return pieces;
};

/** The bucket of an instant (ms since 1970), from 0; the end of the span belongs to the last. */
export const bucketsOf = (span: Pick<SeriesPlace, 'from' | 'to'>, points: number): ((ms: number) => number) => {
  const fromMs = span.from.getTime();
  const stepMs = (span.to.getTime() - fromMs) / points;
  return (ms) => Math.min(points - 1, Math.floor((ms - fromMs) / stepMs));
};

/** @param options.now a gap does not reach beyond it */
export const readSeries = async (
  sql: Sql,
  place: SeriesPlace,
  options: { gases: readonly string[]; points: number; now: Date },
): Promise<Series> => {
  const { gases, points, now } = options;
  const gathered: Gathered = { buckets: new Map(), timesMs: [], floors: [], bucketAt: bucketsOf(place, points) };
  for (const piece of walks(place))
    for (const row of await gather(sql, piece, gases)) unpack(row, gases.length, gathered);
  const buckets = [...gathered.buckets].sort(([a], [b]) => a - b);
  const valuesOf = (k: number): BucketValue[] =>
    buckets.flatMap(([bucket, { found, below }]) => {
      const value = middleAndExtremes(found[k] ?? []);
      const limit = middleAndExtremes(below[k] ?? []);
      if (value === null && limit === null) return [];
      const { median = null, min = null, max = null } = value ?? {};
      return [{ bucket, medianPa: median, minPa: min, maxPa: max, limitPa: limit?.max ?? null }];
    });
  return {
    times: new Map(buckets.map(([bucket, { firstMs }]) => [bucket, new Date(firstMs)])),
    gases: new Map(gases.map((gas, k) => [gas, valuesOf(k)])),
    floorPa: middleAndExtremes(gathered.floors)?.median ?? null,
    gaps: gapsBetween(gathered.timesMs, place, now),
  };
};

/** The analyser whose series is meant when none is named: the first of the document that has data. */
export const firstAnalyserWithData = async (sql: Sql, chamber: string): Promise<string | null> => {
  const [row] = await sql<{ id: string }[]>`
    select a.id from analysers a left join latest l on l.chamber = a.chamber and l.analyser = a.id
    where a.chamber = ${chamber} order by l.at is null, a.retired_at is not null, a.position, a.id limit 1`;
  return row?.id ?? null;
};
