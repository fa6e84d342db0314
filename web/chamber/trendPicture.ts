import type { Alert } from '../../shared/contract/alerts.ts';
import type { ChamberNote } from '../../shared/contract/chamberNotes.ts';
import type { Trend } from '../../shared/contract/readings.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import type { Baseline, StateSpan } from '../api/shapes.ts';
import { alongside } from '../charts/alongside.ts';
import { againKey, gapsOf, rowsOf, undetectedTimes } from '../charts/gaps.ts';
import { logAxis } from '../charts/logAxis.ts';
import type { TrendPicture } from '../charts/TrendChart.tsx';
import { timeTicks } from '../charts/timeAxis.ts';
import type { Bed, LineEnd, Staff, StateBlock } from '../charts/trendParts.ts';
import type { Span } from '../charts/zoom.ts';
import { duration } from '../notation/age.ts';
import { gasLabel, gasSpoken } from '../notation/gas.ts';
import { scientific } from '../notation/number.ts';
import { pressure } from '../notation/pressure.ts';
import { listed } from '../notation/sentence.ts';
import { clockTime, moment } from '../notation/time.ts';
import { SIGNATURE_TITLE } from '../notation/words.ts';
import { words as says } from '../strings/chamber.ts';
import { words as noteWords } from '../strings/crossHair.ts';

/** What the server answered, and how the reader wants to see it. */
export interface PictureParts {
  readonly trend: Trend;
  readonly gases: readonly string[];
  readonly span: Span;
  readonly unit: PressureUnit;
  readonly zone: string;
  readonly nowMs: number;
  readonly baselines: readonly Baseline[];
  readonly states: readonly StateSpan[];
  readonly alerts: readonly Alert[];
  readonly notes: readonly ChamberNote[];
  readonly tickCount: number;
  /** The same span recomputed: drawn beside the trend, never instead of it. */
  readonly recomputed?: Trend | undefined;
}

export function trendPicture(parts: PictureParts): TrendPicture {
  const { trend, gases, span, unit, zone } = parts;
  const inUnit = (pressurePa: number) => fromPascal(pressurePa, unit);
  const series = Object.fromEntries(gases.map((gas) => [gas, trend.series[gas] ?? []]));
  const gaps = gapsOf(trend.gaps);
  const floor = trend.floor !== null && trend.floor > 0 ? inUnit(trend.floor) : null;
  const bed = bedOf(parts);
  const again = gases.filter((gas) => (parts.recomputed?.series[gas] ?? []).length > 0);
  const second = Object.fromEntries(again.map((gas) => [againKey(gas), beside(parts, gas)]));
  const values = Object.values({ ...series, ...second }).flatMap((points) =>
    points.flatMap(({ value, min, max }) => [value, min, max]),
  );
  return {
    rows: rowsOf({ ...series, ...second }, gaps, inUnit),
    gases,
    again,
    undetected: Object.fromEntries(gases.map((gas) => [gas, undetectedTimes(series[gas] ?? [])])),
    gaps,
    axis: logAxis([...values.map((value) => (value === null ? null : inUnit(value))), floor, bed?.low, bed?.high]),
    ticks: timeTicks(span.from, span.to, zone, parts.tickCount),
    floor,
    floorText: floor === null ? '' : says.floor(scientific(floor), unit),
    bed,
    states: blocksOf(parts.states, span),
    staffs: staffsOf(parts),
    ends: [
      ...endsOf(series, unit),
      ...again.flatMap((gas) =>
        endsOf({ [gas]: second[againKey(gas)] ?? [] }, unit).map((end) => ({
          ...end,
          label: says.again(gasLabel(gas)),
        })),
      ),
    ],
    unit,
  };
}

/** Recomputed points at the moments of those that were judged, so that neither line breaks the other. */
function beside({ trend, recomputed }: PictureParts, gas: string): Trend['series'][string] {
  const times = (trend.series[gas] ?? []).map(({ at }) => Date.parse(at));
  return alongside(recomputed?.series[gas] ?? [], times, trend.step * 1000);
}

/** The bed is that of the first gas, in the state that the chamber was in last. */
function bedOf({ trend, gases, unit, baselines, states }: PictureParts): Bed | null {
  const gas = gases[0];
  const state = states[states.length - 1]?.state;
  const baseline =
    baselines.find((candidate) => candidate.analyser === trend.analyser && candidate.state === state) ??
    baselines.find((candidate) => candidate.analyser === trend.analyser);
  const usual = gas === undefined ? undefined : baseline?.gases[gas];
  if (gas === undefined || !baseline || !usual || usual.low <= 0) return null;
  return {
    gas,
    low: fromPascal(usual.low, unit),
    high: fromPascal(usual.high, unit),
    text: says.usualRange(gasLabel(gas), baseline.state),
  };
}

const blocksOf = (states: readonly StateSpan[], span: Span): StateBlock[] =>
  states
    .map(({ from, to, state }) => ({
      from: Math.max(span.from, Date.parse(from)),
      to: to === null ? span.to : Math.min(span.to, Date.parse(to)),
      state,
    }))
    .filter(({ from, to }) => to > from);

/** Longer notes are read in the log. */
const NOTE_SIGNS = 32;
const short = (text: string): string => (text.length <= NOTE_SIGNS ? text : `${text.slice(0, NOTE_SIGNS - 1)}…`);

const staffsOf = ({ alerts, notes, span, zone }: PictureParts): Staff[] => {
  const raised = alerts.map((alert) => {
    const at = Date.parse(alert.raisedAt);
    const text = `${clockTime(at, zone)} ${SIGNATURE_TITLE[alert.signature].toLowerCase()}`;
    return { id: alert.id, at, text, flag: { priority: alert.priority, state: alert.state } };
  });
  const noted = notes
    .filter(({ withdrawnAt }) => withdrawnAt === null)
    .map(({ id, at, text }) => ({ id, at: Date.parse(at), text: noteWords.onTrend(short(text)), flag: null }));
  return [...raised, ...noted].filter(({ at }) => at >= span.from && at <= span.to).sort((a, b) => a.at - b.at);
};

function endsOf(series: Trend['series'], unit: PressureUnit): LineEnd[] {
  return Object.entries(series).flatMap(([gas, points]) => {
    const last = points.findLast((point) => point.value !== null && point.value > 0);
    if (!last || last.value === null) return [];
    const value = fromPascal(last.value, unit);
    return [{ gas, t: Date.parse(last.at), value, text: scientific(value) }];
  });
}

/** The picture in words. */
export function trendSentence(picture: TrendPicture, parts: PictureParts): string {
  const { span, zone, nowMs, trend, unit } = parts;
  const said = picture.gases.map((gas) => {
    const found = (trend.series[gas] ?? []).flatMap(({ value }) => (value !== null && value > 0 ? [value] : []));
    if (found.length === 0) return says.spokenBelow(gasSpoken(gas));
    const last = found[found.length - 1] ?? null;
    const range = says.pressureRange(pressure(Math.min(...found), unit), pressure(Math.max(...found), unit));
    return says.spokenLast(gasSpoken(gas), range, pressure(last, unit));
  });
  const gaps = picture.gaps.map(({ from, to }) => duration((to - from) / 1000));
  return [
    says.trendFrom(moment(span.from, zone, nowMs), moment(span.to, zone, nowMs), said.join('; ')),
    picture.again.length > 0 ? says.recomputedBesideItDashed(listed(picture.again.map(gasSpoken))) : '',
    gaps.length > 0 ? says.withoutScans(gaps.length, listed(gaps.slice(0, 4))) : '',
    picture.staffs.some(({ flag }) => flag !== null)
      ? says.alertsRaised(listed(picture.staffs.filter(({ flag }) => flag !== null).map(({ text }) => text)))
      : '',
    picture.staffs.some(({ flag }) => flag === null)
      ? says.noted(listed(picture.staffs.filter(({ flag }) => flag === null).map(({ text }) => text)))
      : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}
