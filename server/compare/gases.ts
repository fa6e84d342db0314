/** Gas by gas: before, after, what changed, and where it lies against what is usual. */
import { AIR_FRACTIONS } from '../../shared/catalogue/air.ts';
import { GASES } from '../../shared/catalogue/gases.ts';
import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import type { UsualFacts } from '../../shared/db/compared.ts';
import { airInflow } from '../../shared/measurement/airInflow.ts';
import { type BetweenSides, type ChangeFactor, changeFactor } from '../../shared/measurement/changeFactor.ts';
import { type GasSide, growthHalf, halfWidth } from '../../shared/measurement/gasSide.ts';
import type { AlertGas } from '../../shared/measurement/repairVerdict.ts';
import { judged, placeOf, type UsualRange } from '../../shared/measurement/usualPlace.ts';
import { iso } from '../instant.ts';
import { plain, pressure } from '../present.ts';
import type { KnownSide } from './sides.ts';

type Row = BeforeAfter['gases'][number];

export interface GasQuestion {
  readonly before: KnownSide;
  readonly after: KnownSide;
  readonly between: BetweenSides;
  /** Of the state of both; null where they are not in one state, or it was not learned. */
  readonly usual: UsualFacts | null;
  readonly alertGases: readonly string[];
}

/** In the order of the catalogue, as everywhere else. */
const ORDER = new Map<string, number>(GASES.map(({ id }, place) => [id, place]));
export const byCatalogue = (a: string, b: string): number =>
  (ORDER.get(a) ?? ORDER.size) - (ORDER.get(b) ?? ORDER.size);

const rangeOf = (usual: UsualFacts | null, gas: string): UsualRange | null => {
  const found = usual?.gases[gas];
  if (found === undefined) return null;
  const at = (decades: number) => (found.medianLog10Pa + decades) * Math.LN10;
  return { lowLn: at(-found.halfWidthDecades), highLn: at(found.halfWidthDecades) };
};

type SideAnswer = NonNullable<Row['before']>;

const growthAnswer = ({ growth, pattern }: GasSide): SideAnswer['growth'] => {
  if (growth === null) return null;
  const half = growthHalf(growth, pattern);
  const [perHour, low, high] = [0, -half, half].map((off) => plain(Math.exp(growth.lnPerHour + off)));
  return perHour == null || low == null || high == null ? null : { perHour, low, high };
};

const sideAnswer = (side: GasSide, unit: PressureUnit): SideAnswer => {
  const { mean, limitPa, lasting, pattern, detectedShare, course, atMs } = side;
  const share = {
    course,
    at: atMs === null ? null : iso(new Date(atMs)),
    growth: growthAnswer(side),
    detectedShare: plain(detectedShare) ?? 0,
  };
  if (mean === null) {
    const high = pressure(limitPa, unit);
    return { value: null, low: 0, high, comparedLow: 0, comparedHigh: high, ...share, effectiveScans: null };
  }
  const at = (ln: number) => pressure(Math.exp(ln), unit);
  const [all, own] = [halfWidth(mean, lasting), halfWidth(mean, pattern)];
  return {
    value: at(mean.ln),
    low: at(mean.ln - all),
    high: at(mean.ln + all),
    comparedLow: at(mean.ln - own),
    comparedHigh: at(mean.ln + own),
    ...share,
    effectiveScans: plain(mean.effective),
  };
};

const changed = ({ ratio, ratioLow, ratioHigh }: ChangeFactor): Row['changed'] => {
  if (ratioHigh !== null && ratioHigh < 1) return 'fell';
  if (ratioLow !== null && ratioLow > 1) return 'rose';
  return ratio === null ? 'cannot tell' : 'no';
};

const UNKNOWN: ChangeFactor = { ratio: null, ratioLow: null, ratioHigh: null };

const rowOf = (gas: string, asked: GasQuestion, unit: PressureUnit): Row => {
  const [before, after] = [asked.before.gases.get(gas) ?? null, asked.after.gases.get(gas) ?? null];
  const range = rangeOf(asked.usual, gas);
  const factor = before === null || after === null ? UNKNOWN : changeFactor(before, after, asked.between);
  return {
    gas,
    inAlert: asked.alertGases.includes(gas),
    before: before && sideAnswer(before, unit),
    after: after && sideAnswer(after, unit),
    usual: range && {
      low: pressure(Math.exp(range.lowLn), unit) ?? 0,
      high: pressure(Math.exp(range.highLn), unit) ?? 0,
    },
    ratio: plain(factor.ratio),
    ratioLow: plain(factor.ratioLow),
    ratioHigh: plain(factor.ratioHigh),
    changed: changed(factor),
    judgement: judged(placeOf(before, range), placeOf(after, range)),
  };
};

export const gasRows = (asked: GasQuestion, unit: PressureUnit): Row[] =>
  [...new Set([...asked.before.gases.keys(), ...asked.after.gases.keys()])]
    .toSorted(byCatalogue)
    .map((gas) => rowOf(gas, asked, unit));

export const alertPlaces = (asked: GasQuestion): AlertGas[] =>
  asked.alertGases.map((gas) => {
    const range = rangeOf(asked.usual, gas);
    const place = (side: KnownSide) => placeOf(side.gases.get(gas) ?? null, range);
    return { gas, before: place(asked.before), after: place(asked.after) };
  });

/** Argon first: nothing eats it, and nothing else lies where it is seen. */
const TRACERS = ['Ar', 'N2'] as const;

/** The leak of air before and after; null without a pumping speed, a usual range, or anything above it before. */
export function leakOf(asked: GasQuestion, speeds: Readonly<Record<string, number>>): BeforeAfter['leak'] {
  for (const gas of TRACERS) {
    const [before, after, usual] = [asked.before.gases.get(gas), asked.after.gases.get(gas), asked.usual?.gases[gas]];
    const litresPerSecond = speeds[gas] ?? speeds.N2;
    if (!before || !after || !usual || litresPerSecond === undefined || asked.between.measure !== 'same') continue;
    const middlePa = 10 ** usual.medianLog10Pa;
    const sigmaPa = middlePa * Math.LN10 * usual.sigmaDecades;
    const found = airInflow({
      before,
      after,
      usual: { middlePa, sigmaPa },
      litresPerSecond,
      share: AIR_FRACTIONS[gas],
    });
    if (found === null) continue;
    const flow = ({ value, low, high }: typeof found.before) => ({
      value: plain(value),
      low: plain(low) ?? 0,
      high: plain(high) ?? 0,
    });
    return {
      gas,
      unit: 'Pa*m3/s',
      before: flow(found.before),
      after: flow(found.after),
      timesLessAtLeast: plain(found.timesLessAtLeast) ?? 0,
    };
  }
  return null;
}
