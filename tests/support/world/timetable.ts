/** When a chamber is vented, let gas in or transferred through. */
import { DAY, HOUR, type World } from './chamber.ts';
import type { Random } from './random.ts';

export interface Span {
  readonly from: number;
  readonly to: number;
  readonly state: string;
  /** Of a gas step: share of the full flow. */
  readonly level?: number;
  /** The gateway says "base" all the same. */
  readonly undeclared?: boolean;
}

const UNDECLARED_SHARE = 0.15;

export function timetable(world: World, days: number, random: Random, undeclared = UNDECLARED_SHARE): Span[] {
  const wanted: Span[][] = [];
  if (world.kind === 'process') {
    for (let t = random.range(1, 5) * HOUR; t < days * DAY; t += random.range(5, 16) * HOUR) {
      wanted.push([
        { from: t, to: t + random.range(0.5, 3) * HOUR, state: 'gas-on', level: random.pick([1, 1, 1, 0.5]) },
      ]);
    }
  }
  if (world.kind === 'unbaked') {
    for (let t = random.range(4, 40) * HOUR; t < days * DAY; t += random.range(8, 60) * HOUR) {
      wanted.push([{ from: t, to: t + random.range(0.1, 0.4) * HOUR, state: 'transfer' }]);
    }
  }
  const every = world.kind === 'baked' ? 45 : 20;
  for (let t = random.range(6, every) * DAY; t < (days - 1) * DAY; t += random.range(0.5, 1.5) * every * DAY) {
    const vented = t + random.range(1, 8) * HOUR;
    wanted.push([
      { from: t, to: vented, state: 'vented' },
      {
        from: vented,
        to: vented + random.range(8, 30) * HOUR,
        state: 'pump-down',
        undeclared: random.uniform() < undeclared,
      },
    ]);
  }
  return apart(wanted);
}

/** In order, at least an hour between two. */
function apart(wanted: Span[][]): Span[] {
  const out: Span[] = [];
  let end = 0;
  for (const spans of wanted.sort((a, b) => a[0]!.from - b[0]!.from)) {
    if (spans[0]!.from < end) continue;
    out.push(...spans);
    end = spans.at(-1)!.to + HOUR;
  }
  return out;
}
