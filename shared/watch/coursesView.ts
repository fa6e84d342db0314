/** Slow courses as they are stored for people: plain JSON, `null` where a time is never reached. */
import { type LifeKind, lifeNow } from './endOfLife.ts';
import { pumpDownNow } from './pumpDownLate.ts';
import type { WatchMemory } from './types.ts';

export interface StoredArrival {
  readonly at: number | null;
  readonly earliest: number | null;
  readonly latest: number | null;
}

export interface StoredPumpDown {
  readonly fromMs: number;
  readonly ageSeconds: number;
  readonly pressurePa: number;
  readonly usualPa: number | null;
  readonly lateAbovePa: number | null;
  readonly usualDurationSeconds: number | null;
  readonly pumpDowns: number;
  readonly exponent: { readonly value: number; readonly low: number; readonly high: number } | null;
  readonly targetPa: number | null;
  /** Ages, seconds. */
  readonly arrival: StoredArrival | null;
}

export interface StoredLife {
  readonly kind: LifeKind;
  /** Share of the way to its end. */
  readonly gone: number;
  /** Days from now. */
  readonly arrival: StoredArrival;
  readonly points: number;
}

export interface CoursesView {
  readonly pumpDown: StoredPumpDown | null;
  readonly life: readonly StoredLife[];
}

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);
const stored = ({ at, earliest, latest }: { at: number; earliest: number; latest: number }): StoredArrival => ({
  at: finite(at),
  earliest: finite(earliest),
  latest: finite(latest),
});

export function coursesView(memory: WatchMemory): CoursesView {
  const run = pumpDownNow(memory);
  const life = lifeNow(memory);
  return {
    pumpDown: run && {
      fromMs: run.fromMs,
      ageSeconds: run.ageSeconds,
      pressurePa: run.pressurePa,
      usualPa: run.usualPa,
      lateAbovePa: run.lateAbovePa,
      usualDurationSeconds: run.usualDurationSeconds,
      pumpDowns: run.pumpDowns,
      exponent: run.slope && { value: run.slope.exponent, low: run.slope.low, high: run.slope.high },
      targetPa: run.targetPa,
      arrival: run.arrival && stored(run.arrival),
    },
    life: (Object.keys(life) as LifeKind[]).flatMap((kind) => {
      const forecast = life[kind];
      if (!forecast || forecast.level === forecast.first) return [];
      // Adding zero makes a minus zero plain: JSON does not keep it.
      const gone = (forecast.now - forecast.first) / (forecast.level - forecast.first) + 0;
      return [{ kind, gone, arrival: stored(forecast.days), points: forecast.points }];
    }),
  };
}
