import { linearAxis } from '../charts/linearAxis.ts';
import { LOCALE } from '../strings/locale.ts';

export interface DayCount {
  readonly day: string;
  readonly annunciations: number;
}

/** A quiet month must not look like a storm: the axis reaches at least this high. */
const LEAST_CALLS = 4;

export interface DayPlace extends DayCount {
  readonly x: number;
  readonly y: number;
}

export interface DayLayout {
  readonly places: readonly DayPlace[];
  readonly ticks: readonly { readonly value: number; readonly y: number }[];
  /** Days whose date is written under the axis. */
  readonly labels: readonly { readonly day: string; readonly x: number }[];
  readonly pitch: number;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const LABEL_PX = 62;

/** One place per day; a day without a call has its mark on the ground, because none is a count and not a gap. */
export function dayLayout(days: readonly DayCount[], box: Box): DayLayout {
  const axis = linearAxis([0, ...days.map(({ annunciations }) => annunciations)], LEAST_CALLS, 5);
  const pitch = (box.right - box.left) / Math.max(1, days.length);
  const y = (value: number) => box.bottom - (value / axis.high) * (box.bottom - box.top);
  const x = (i: number) => box.left + (i + 0.5) * pitch;
  const every = Math.max(1, Math.ceil(LABEL_PX / pitch));
  const last = days.length - 1;
  return {
    places: days.map((day, i) => ({ ...day, x: x(i), y: y(day.annunciations) })),
    ticks: axis.ticks.filter((value) => value >= 0 && Number.isInteger(value)).map((value) => ({ value, y: y(value) })),
    labels: days.flatMap(({ day }, i) => ((last - i) % every === 0 ? [{ day, x: x(i) }] : [])),
    pitch,
  };
}

/** `27 Nov` out of `2026-11-27`. */
export function dayText(day: string): string {
  const at = Date.parse(`${day}T12:00:00Z`);
  if (Number.isNaN(at)) return day;
  return new Intl.DateTimeFormat(LOCALE, { day: 'numeric', month: 'short', timeZone: 'UTC' }).format(at);
}
