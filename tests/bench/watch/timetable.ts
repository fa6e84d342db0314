/** What a chamber is used for: lots of gas steps by recipe, transfers, vents with their pump-downs, bakes. */
import { seededRandom } from '../../support/instrument.ts';
import type { Chamber } from './chamber.ts';
import type { Gas } from './gasTable.ts';
import { DAY, HOUR } from './hall.ts';

export interface Span {
  readonly from: number;
  readonly to: number;
  readonly state: string;
  /** False: the gateway says nothing of it, and the state before goes on. */
  readonly declared: boolean;
  /** Let in during the span, as multiples of the chamber's total pressure. */
  readonly gas: Readonly<Partial<Record<Gas, number>>>;
  readonly wallKelvin: number;
}

export interface TimetableOptions {
  readonly vents: boolean;
  readonly run: number;
}

interface Recipe {
  readonly gas: Span['gas'];
  readonly minutes: number;
}

/** One in eight of the gateways forgets a state now and then. */
const FORGETFUL = 0.12;
const FORGOTTEN = 0.15;

export function timetable(chamber: Chamber, days: number, { vents, run }: TimetableOptions): Span[] {
  const random = seededRandom(chamber.seed * 6151 + run * 31 + 5);
  const forgetful = random.uniform() < FORGETFUL;
  const blocks: Span[][] = [];
  const span = (from: number, hours: number, state: string, extra: Partial<Span> = {}): Span => ({
    from,
    to: from + hours * HOUR,
    state,
    declared: !(forgetful && random.uniform() < FORGOTTEN),
    gas: {},
    wallKelvin: 0,
    ...extra,
  });
  if (chamber.kind === 'process') {
    const recipes: Recipe[] = Array.from({ length: 3 }, () => ({
      gas: Object.fromEntries(chamber.processGases.map((gas) => [gas, random.decades(30, 600)])),
      minutes: random.between(20, 120),
    }));
    // Lots come while a shift of twelve hours works on this tool.
    const dayShift = random.uniform() < 0.5;
    for (let t = random.between(1, 6) * HOUR; t < days * DAY; t += random.between(2.5, 9) * HOUR) {
      const working = (t / HOUR) % 24 < 12 === dayShift || random.uniform() < 0.4;
      const { gas, minutes } = random.pick(recipes);
      if (working) blocks.push([span(t, minutes / 60, random.uniform() < 0.3 ? 'plasma' : 'gas-on', { gas })]);
    }
  }
  if (chamber.kind === 'unbaked') {
    for (let t = random.between(3, 30) * HOUR; t < days * DAY; t += random.between(6, 50) * HOUR) {
      blocks.push([span(t, random.between(0.1, 0.4), 'transfer', { gas: { N2: 2, H2O: 0.4 } })]);
    }
  }
  if (vents) blocks.push(...ventsOf(chamber, days, random, span));
  return apart(blocks);
}

function ventsOf(
  { kind }: Chamber,
  days: number,
  random: ReturnType<typeof seededRandom>,
  span: (from: number, hours: number, state: string, extra?: Partial<Span>) => Span,
): Span[][] {
  const every = kind === 'baked' ? 50 : 22;
  const out: Span[][] = [];
  for (let t = random.between(4, every) * DAY; t < (days - 1) * DAY; t += random.between(0.6, 1.5) * every * DAY) {
    const vented = span(t, random.between(1, 10), 'vented', { declared: true });
    const pumped = span(vented.to, random.between(8, 30), 'pump-down');
    const block = [vented, pumped];
    if (kind === 'baked') {
      const bake = span(pumped.to, random.between(18, 40), 'bake', {
        wallKelvin: random.between(70, 120),
        declared: true,
      });
      block.push(bake, span(bake.to, random.between(14, 24), 'cool-down', { declared: true }));
    }
    out.push(block);
  }
  return out;
}

/** In order; what would overlap does not happen. */
function apart(blocks: Span[][]): Span[] {
  const vents = blocks.filter(([first]) => first!.state === 'vented');
  const out = vents.flat();
  for (const block of blocks) {
    if (block[0]!.state === 'vented') continue;
    const clear = out.every(({ from, to }) => block[0]!.from > to + 0.5 * HOUR || block.at(-1)!.to < from - 0.5 * HOUR);
    if (clear) out.push(...block);
  }
  return out.sort((a, b) => a.from - b.from);
}
