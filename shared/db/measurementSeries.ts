/** How an analyser's own figures went over time, in buckets that keep the least and the greatest. */
import type { Sql } from 'postgres';
import { MEASURED_QUANTITIES, type MeasuredQuantity } from '../contract/measurement.ts';
import { bucketsOf, middleAndExtremes, type SeriesPlace, walks } from './series.ts';

export interface MeasuredBucket {
  /** Place of the bucket, from 0. */
  readonly bucket: number;
  /** First scan of the bucket that has the figure. */
  readonly at: Date;
  readonly median: number;
  readonly min: number;
  readonly max: number;
}

/** Buckets without a figure are left out: no answer is no zero. Pressures in Pa, offset and width in u. */
export type MeasurementSeries = Readonly<Record<MeasuredQuantity, readonly MeasuredBucket[]>>;

/** Columns of `readings` per quantity. */
const COLUMN: Record<MeasuredQuantity, string> = {
  floor: 'floor_pa',
  decades: 'decades',
  kappa: 'kappa',
  massOffset: 'mass_offset_u',
  width: 'width_u',
  noise: 'read_noise_pa',
  gain: 'gain',
  chiSquarePerDof: 'chi_square_per_dof',
};
/** Time (s since 1970) and every quantity of a scan, float64 each, as PostgreSQL sends them: big-endian. */
const NUMBERS_PER_SCAN = 1 + MEASURED_QUANTITIES.length;
const BYTES_PER_SCAN = 8 * NUMBERS_PER_SCAN;

const gather = (sql: Sql, piece: SeriesPlace) => {
  const columns = MEASURED_QUANTITIES.map(
    (quantity) => sql`|| float8send(coalesce(${sql(COLUMN[quantity])}::float8, 'NaN'))`,
  ).reduce((all, one) => sql`${all} ${one}`, sql``);
  return sql<{ bytes: Buffer | null }[]>`
    select string_agg(float8send(date_part('epoch', at)) ${columns}, ''::bytea) as bytes from readings
    where chamber = ${piece.chamber} and analyser = ${piece.analyser} and at between ${piece.from} and ${piece.to}`;
};

interface Gathered {
  firstMs: number;
  readonly values: number[];
}

export const readMeasurementSeries = async (
  sql: Sql,
  asked: SeriesPlace & { readonly points: number },
): Promise<MeasurementSeries> => {
  const bucketAt = bucketsOf(asked, asked.points);
  const gathered = MEASURED_QUANTITIES.map(() => new Map<number, Gathered>());
  for (const piece of walks(asked)) {
    const [row] = await gather(sql, piece);
    const bytes = row?.bytes ?? Buffer.alloc(0);
    for (let start = 0; start < bytes.length; start += BYTES_PER_SCAN) {
      const ms = Math.round(bytes.readDoubleBE(start) * 1000);
      gathered.forEach((buckets, k) => {
        const value = bytes.readDoubleBE(start + 8 * (k + 1));
        if (!Number.isFinite(value)) return;
        const key = bucketAt(ms);
        const bucket = buckets.get(key) ?? { firstMs: ms, values: [] };
        buckets.set(key, bucket);
        bucket.firstMs = Math.min(bucket.firstMs, ms);
        bucket.values.push(value);
      });
    }
  }
  return Object.fromEntries(
    MEASURED_QUANTITIES.map((quantity, k) => [quantity, inOrder(gathered[k] ?? new Map())]),
  ) as unknown as MeasurementSeries;
};

const inOrder = (buckets: ReadonlyMap<number, Gathered>): MeasuredBucket[] =>
  [...buckets]
    .sort(([a], [b]) => a - b)
    .flatMap(([bucket, { firstMs, values }]) => {
      const found = middleAndExtremes(values);
      return found === null ? [] : [{ bucket, at: new Date(firstMs), ...found }];
    });
