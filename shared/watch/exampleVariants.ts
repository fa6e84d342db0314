/**
 * Closed cases of this site as further shapes of their cause. The catalogue knows what a gas does to instruments in
 * general; a verified case shows what it did here, with peaks that no record holds. It competes as one more variant,
 * with a smaller error, on every chamber whose mass list shows nearly all of it.
 *
 * Causes that move the chamber's own gases (pumps, gain, mass scale) take no part: their shape is that of the chamber
 * in which they happened.
 */
import type { Cause, Variant } from './cause.ts';
import type { Vector } from './memory.ts';
import { basePeak } from './patterns.ts';
import type { SiteExample } from './types.ts';

/** Between analysers of one site, or months apart on one (our judgement): half the error of a published record. */
const EXAMPLE_ERROR = 0.12;
/** A peak that stood out by less says only that it was small. */
const SEEN_SIGMAS = 3;
/** Share of what was seen that the mass list of a chamber must hold. */
const LEAST_OVERLAP = 0.9;
/** The newest of one cause: each costs what a record costs. */
const MOST_PER_CAUSE = 6;

const MOVES_OWN_GASES: ReadonlySet<string> = new Set([
  'pumping-loss',
  'sensitivity-drift',
  'mass-shift',
  'impossible-pressure',
  'analyser-outgassing',
]);

/** The reason why an example cannot be used; null: it can. */
export function faultOf({ masses, changePa, sigmaPa }: SiteExample): string | null {
  if (changePa.length !== masses.length) return `changePa: ${changePa.length} values for ${masses.length} masses`;
  if (sigmaPa.length !== masses.length) return `sigmaPa: ${sigmaPa.length} values for ${masses.length} masses`;
  if (masses.some((mass, i) => !Number.isInteger(mass) || mass < 1 || (i > 0 && mass <= masses[i - 1]!)))
    return 'masses: must be whole numbers from 1 on that ascend';
  if (!changePa.every(Number.isFinite)) return 'changePa: must be finite';
  if (!sigmaPa.every((sigma) => Number.isFinite(sigma) && sigma > 0)) return 'sigmaPa: must be above 0';
  return null;
}

export const isUsable = (example: SiteExample): boolean => faultOf(example) === null;

const joined = new WeakMap<
  readonly SiteExample[],
  Map<readonly Cause[], { masses: Vector; causes: readonly Cause[] }>
>();

/** `causes` with what the site has seen of them; the same lists give the same result, made once. */
export function withExamples(
  causes: readonly Cause[],
  examples: readonly SiteExample[] | undefined,
  masses: Vector,
): readonly Cause[] {
  if (!examples || examples.length === 0) return causes;
  const known = joined.get(examples) ?? new Map();
  joined.set(examples, known);
  const made = known.get(causes);
  if (made?.masses === masses) return made.causes;
  const out = join(causes, examples, masses);
  known.clear();
  known.set(causes, { masses, causes: out });
  return out;
}

function join(causes: readonly Cause[], examples: readonly SiteExample[], masses: Vector): Cause[] {
  const out = [...causes];
  const counts = new Map<string, number>();
  for (const example of [...examples].reverse()) {
    if (MOVES_OWN_GASES.has(example.signature) || !isUsable(example)) continue;
    const at = out.findIndex((cause) => isOf(cause, example));
    const cause = out[at];
    const variant = variantOf(example, masses, cause);
    if (!variant) continue;
    const id = cause?.id ?? idOf(example);
    const count = (counts.get(id) ?? 0) + 1;
    if (count > MOST_PER_CAUSE) continue;
    counts.set(id, count);
    if (cause) out[at] = { ...cause, variants: [...cause.variants, variant] };
    else out.push(causeOf(example, variant));
  }
  return out;
}

const idOf = ({ signature, gases }: SiteExample): string => `seen-here:${signature}:${gases.join('+')}`;

function isOf(cause: Cause, example: SiteExample): boolean {
  if (cause.id === idOf(example)) return true;
  if (cause.signature !== example.signature || example.signature === 'unexplained-peaks') return false;
  // A family (air, oils, oxides) is one cause; of solvents and lines each gas is its own.
  return cause.single === null || example.gases.length === 0 || example.gases.some((gas) => cause.gases.includes(gas));
}

/** What the catalogue has no name for is a cause of its own, as likely as any other. */
function causeOf(example: SiteExample, variant: Variant): Cause {
  const { signature, gases } = example;
  return { id: idOf(example), signature, gases, variants: [variant], triggers: [], prior: 0, single: null };
}

/** Null: the chamber scans too little of what was seen. */
function variantOf(example: SiteExample, masses: Vector, cause: Cause | undefined): Variant | null {
  const { changePa, sigmaPa } = example;
  const dense = new Float64Array(masses.length + 1);
  const errors = new Float64Array(masses.length + 1);
  let [all, shared] = [0, 0];
  example.masses.forEach((mass, i) => {
    const height = changePa[i]! > SEEN_SIGMAS * sigmaPa[i]! && mass > 1 ? changePa[i]! : 0;
    const m = masses.indexOf(mass) + 1;
    all += height;
    if (m === 0) return;
    shared += height;
    dense[m] = height;
    errors[m] = Math.hypot(EXAMPLE_ERROR * height, sigmaPa[i]!);
  });
  if (!(all > 0) || shared < LEAST_OVERLAP * all) return null;
  const scale = scaleTo(cause, dense);
  for (let m = 1; m < dense.length; m++) {
    dense[m]! *= scale;
    errors[m]! *= scale;
  }
  // How a gauge answers is a matter of the gas, not of the gauge of that day.
  const gauge = cause?.variants[0]?.dense[0] ?? Math.max(0, (example.gaugeChangePa ?? 0) * scale);
  dense[0] = gauge;
  errors[0] = 2 * EXAMPLE_ERROR * gauge;
  return { dense, errors, prior: 0, example: example.id, gases: [...example.gases] };
}

/** Per pascal of the gas as its cause counts it, by the tallest peak of what was seen; per its own height otherwise. */
function scaleTo(cause: Cause | undefined, dense: Float64Array): number {
  const base = basePeak(dense);
  const m = dense.indexOf(base);
  const counted = cause?.variants[0]?.dense[m] ?? 0;
  return (counted > 0 ? counted : 1) / base;
}
