/** A trend as the contract has it, for the chart, the table and the ticket alike. */
import { resolveGas } from '../shared/catalogue/select.ts';
import type { Trend, TrendPoint } from '../shared/contract/readings.ts';
import type { PressureUnit } from '../shared/contract/words.ts';
import { type BucketValue, firstAnalyserWithData, readSeries, type Series } from '../shared/db/series.ts';
import { csv } from './csv.ts';
import type { Deps } from './deps.ts';
import { impossible, notFound } from './errors.ts';
import { iso } from './instant.ts';
import { pressure } from './present.ts';
import { recomputationOf } from './recomputation.ts';
import { checkChamber } from './routes/chambers.ts';
import type { Span } from './span.ts';

/** What residual gas is made of in almost any chamber; shown when nobody says which gases. */
const USUAL_GASES = ['H2', 'CH4', 'H2O', 'CO', 'N2', 'O2', 'Ar', 'CO2'];
/** More lines than this nobody can tell apart, and each costs a walk through the span. */
const MOST_GASES = 24;
export const MOST_POINTS = 5000;
export const DEFAULT_POINTS = 800;

export interface TrendQuestion {
  chamber: string;
  analyser: string | undefined;
  /** As asked, comma-separated. */
  gases: string | undefined;
  span: Span;
  points: number;
  unit: PressureUnit;
  /** A gap does not reach beyond this; default: now. */
  until?: Date;
  /** Id of the task whose recomputed readings are meant, instead of those that were judged. */
  recomputation?: string | undefined;
}

/** Catalogue ids of a comma-separated list. @throws 422 for a gas that is not in the catalogue */
export const gasesOf = (asked: string | undefined): string[] => {
  if (asked === undefined || asked.trim() === '') return USUAL_GASES;
  const names = asked.split(',').map((name) => name.trim());
  const ids = names.map((name) => {
    const id = resolveGas(name);
    if (id === null) throw impossible('gases', `${name === '' ? 'an empty name' : name} is not in the catalogue`);
    return id;
  });
  const unique = [...new Set(ids)];
  if (unique.length > MOST_GASES) throw impossible('gases', `names ${unique.length} gases; at most ${MOST_GASES}`);
  return unique;
};

/** @throws 404 for a chamber or an analyser that is not there */
export const analyserOf = async (deps: Deps, chamber: string, asked: string | undefined): Promise<string> => {
  await checkChamber(deps, chamber);
  if (asked === undefined) {
    const first = await firstAnalyserWithData(deps.db.sql, chamber);
    if (first === null) throw notFound(`Chamber ${chamber} has no analyser.`);
    return first;
  }
  const [row] = await deps.db.sql`select 1 from analysers where chamber = ${chamber} and id = ${asked}`;
  if (!row) throw notFound(`Chamber ${chamber} has no analyser ${asked}.`);
  return asked;
};

const pointsOf = (series: Series, values: readonly BucketValue[], unit: PressureUnit): TrendPoint[] => {
  const byBucket = new Map(values.map((value) => [value.bucket, value]));
  if (byBucket.size === 0) return [];
  return [...series.times].map(([bucket, at]) => {
    // A bucket whose scans gave no answer for the gas is a point without a value, not a missing point.
    const value = byBucket.get(bucket);
    return {
      at: iso(at),
      value: pressure(value?.medianPa, unit),
      min: pressure(value?.minPa, unit),
      max: pressure(value?.maxPa, unit),
      ...(value?.limitPa == null ? {} : { limit: pressure(value.limitPa, unit) }),
    };
  });
};

export const readTrend = async (deps: Deps, question: TrendQuestion): Promise<Trend> => {
  const { chamber, span, points, unit } = question;
  const gases = gasesOf(question.gases);
  const recomputed = await recomputationOf(deps, question);
  const analyser = recomputed?.analyser ?? (await analyserOf(deps, chamber, question.analyser));
  const place = { chamber, analyser, from: span.from, to: span.to, recomputation: recomputed?.shown.task };
  const now = question.until ?? deps.now();
  const series = await readSeries(deps.db.sql, place, { gases, points, now });
  return {
    unit,
    step: (span.to.getTime() - span.from.getTime()) / 1000 / points,
    from: iso(span.from),
    to: iso(span.to),
    analyser,
    series: Object.fromEntries(gases.map((gas) => [gas, pointsOf(series, series.gases.get(gas) ?? [], unit)])),
    floor: pressure(series.floorPa, unit),
    gaps: series.gaps.map((gap) => ({ from: iso(gap.from), to: iso(gap.to) })),
    ...(recomputed === null ? {} : { recomputation: recomputed.shown }),
  };
};

/** Each column says that it was worked out again, and with what: tables are pasted beside each other. */
const recomputedWords = ({ recomputation }: Trend): string =>
  recomputation === undefined
    ? ''
    : `, recomputed by ${recomputation.task} with ${recomputation.calibrationVersions.join(' and ')}`;

/** The same as a table: a row per bucket, four columns per gas. An empty cell: not detected, see the limit. */
export const trendTable = (trend: Trend): string => {
  const gases = Object.keys(trend.series);
  const from = recomputedWords(trend);
  const head = gases.flatMap((gas) =>
    ['', ' min', ' max', ' below'].map((which) => `${gas}${which} (${trend.unit})${from}`),
  );
  const times = [...new Set(gases.flatMap((gas) => (trend.series[gas] ?? []).map(({ at }) => at)))].sort();
  const byTime = new Map(
    gases.map((gas) => [gas, new Map((trend.series[gas] ?? []).map((point) => [point.at, point]))]),
  );
  const rows = times.map((at) => [
    at,
    ...gases.flatMap((gas) => {
      const point = byTime.get(gas)?.get(at);
      return [point?.value ?? null, point?.min ?? null, point?.max ?? null, point?.limit ?? null];
    }),
  ]);
  return csv(['at', ...head], rows);
};
