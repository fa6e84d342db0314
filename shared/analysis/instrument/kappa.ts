import { short } from './memory.ts';

/**
 * κ = gauge / Σ s P, followed: while it stands still, analyser and gauge disagree by a fixed factor, and an engineer may
 * be offered that factor. A step starts it anew: one of the two has changed.
 */
export interface KappaMemory {
  /** Centre of ln κ, from deviations cut at three spreads. */
  readonly centre: number;
  /** Variance of ln κ about it, likewise. */
  readonly variance: number;
  readonly scans: number;
  readonly sinceMs: number;
  readonly atMs: number;
  /** The latest values in a row that stood far off. */
  readonly astray: readonly number[];
  /** Means over equal stretches of scans, for the trend: hours since `sinceMs`, mean of ln κ. */
  readonly blocks: readonly { readonly hours: number; readonly mean: number; readonly scans: number }[];
  readonly blockScans: number;
}

/** Old scans count for less: over this many. */
const SCANS_REMEMBERED = 2000;
/** Gauges and analysers repeat to some per cent: a spread below this says that few scans were seen. */
const LEAST_SPREAD = 0.02;
const FIRST_SPREAD = 0.1;
const CUT_SPREADS = 3;
/** Farther than this and three spreads off, this often in a row on one side: a step (a filament, a gain, a gauge). */
const STEP = 0.1;
const STEP_SCANS = 5;
const BLOCKS = 16;
const FIRST_BLOCK_SCANS = 8;

/** A factor for good rests on hundreds of scans that saw a day's warm and cold half. */
export const STEADY_SCANS = 200;
const STEADY_HOURS = 12;
/** A hot-cathode gauge holds its factor to 6–12 % in 500 days; within days a larger scatter is something else. */
const STEADY_SPREAD = 0.08;
/** Least drift from end to end that counts as a trend, unless it is within the scatter of the blocks. */
const TREND = 0.05;
const HOUR_MS = 3_600_000;

export function learnKappa(memory: KappaMemory | null, kappa: number | null, atMs: number): KappaMemory | null {
  if (kappa === null || !(kappa > 0) || !Number.isFinite(kappa)) return memory;
  const value = Math.log(kappa);
  if (memory === null) return begin([value], atMs, atMs);
  const away = value - memory.centre;
  const spread = Math.max(LEAST_SPREAD, Math.sqrt(memory.variance));
  const sides = memory.astray.every((other) => Math.sign(other - memory.centre) === Math.sign(away));
  const isFar = Math.abs(away) > STEP + CUT_SPREADS * spread;
  const astray = isFar ? [...(sides ? memory.astray : []), short(value, 6)] : [];
  if (astray.length >= STEP_SCANS) return begin(astray, atMs, atMs);
  const scans = memory.scans + 1;
  const share = 1 / Math.min(scans, SCANS_REMEMBERED);
  const cut = Math.max(-CUT_SPREADS * spread, Math.min(CUT_SPREADS * spread, away));
  return {
    ...memory,
    centre: short(memory.centre + share * cut, 8),
    variance: short((1 - share) * (memory.variance + share * cut * cut), 6),
    scans,
    atMs,
    astray,
    ...withBlock(memory, memory.centre + cut, (atMs - memory.sinceMs) / HOUR_MS),
  };
}

function begin(values: readonly number[], sinceMs: number, atMs: number): KappaMemory {
  const centre = [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
  return {
    centre: short(centre, 8),
    variance: FIRST_SPREAD ** 2,
    scans: values.length,
    sinceMs,
    atMs,
    astray: [],
    blocks: [],
    blockScans: FIRST_BLOCK_SCANS,
  };
}

/** When all blocks are full, neighbours are joined and blocks hold twice as many scans from then on. */
function withBlock(
  { blocks, blockScans }: KappaMemory,
  value: number,
  hours: number,
): Pick<KappaMemory, 'blocks' | 'blockScans'> {
  const last = blocks.at(-1);
  if (last !== undefined && last.scans < blockScans) {
    const scans = last.scans + 1;
    const grown = {
      hours: short(last.hours + (hours - last.hours) / scans, 7),
      mean: short(last.mean + (value - last.mean) / scans, 7),
      scans,
    };
    return { blocks: [...blocks.slice(0, -1), grown], blockScans };
  }
  const next = { hours: short(hours, 7), mean: short(value, 7), scans: 1 };
  if (blocks.length < BLOCKS) return { blocks: [...blocks, next], blockScans };
  const joined = [];
  for (let k = 0; k + 1 < blocks.length; k += 2) {
    const [a, b] = [blocks[k]!, blocks[k + 1]!];
    joined.push({
      hours: short((a.hours + b.hours) / 2, 7),
      mean: short((a.mean + b.mean) / 2, 7),
      scans: a.scans + b.scans,
    });
  }
  return { blocks: [...joined, next], blockScans: 2 * blockScans };
}

/** Spread of ln κ, without what the first guess of it brings. */
export const kappaSpread = ({ variance }: KappaMemory): number => Math.sqrt(variance);

export function kappaIsSteady(memory: KappaMemory): boolean {
  const { scans, sinceMs, atMs, blocks } = memory;
  if (scans < STEADY_SCANS || atMs - sinceMs < STEADY_HOURS * HOUR_MS) return false;
  if (kappaSpread(memory) > STEADY_SPREAD) return false;
  const whole = blocks.filter((block) => 2 * block.scans >= memory.blockScans);
  const { drift, error } = lineThrough(whole);
  return Math.abs(drift) <= Math.max(TREND, 2 * error) && Math.abs(drift) < 2 * STEADY_SPREAD;
}

/** Least-squares line through the blocks: change from the first to the last, and its standard error. */
function lineThrough(blocks: KappaMemory['blocks']): { drift: number; error: number } {
  const n = blocks.length;
  if (n < 3) return { drift: 0, error: 0 };
  const meanX = blocks.reduce((sum, block) => sum + block.hours, 0) / n;
  const meanY = blocks.reduce((sum, block) => sum + block.mean, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const { hours, mean } of blocks) {
    xx += (hours - meanX) ** 2;
    xy += (hours - meanX) * (mean - meanY);
    yy += (mean - meanY) ** 2;
  }
  const length = blocks[n - 1]!.hours - blocks[0]!.hours;
  if (!(xx > 0)) return { drift: 0, error: 0 };
  const slope = xy / xx;
  return { drift: slope * length, error: length * Math.sqrt(Math.max(0, yy - slope * xy) / (n - 2) / xx) };
}
