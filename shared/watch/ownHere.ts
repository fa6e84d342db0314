/**
 * Which of the causes of the background can be asked of a change at all: what an analyser without a scale of its own can
 * know, what a pump does to the tail of a vent, and what nitrogen says of a getter.
 */
import type { Variant } from './cause.ts';
import type { Frame } from './frame.ts';
import { isScaledByGauge } from './gaugeSaid.ts';
import { hasRisen, type Moved, movedGases } from './moved.ts';
import type { Candidate } from './naming.ts';
import { type OwnCause, WARM_CAUSE } from './ownCauses.ts';
import { isOwn } from './triggers.ts';

/** As the gain: peaks that all move alike do so within 8 %. */
const ALIKE = 0.08;

export function ownHere(frame: Frame): readonly OwnCause[] {
  const causes = withTail(frame, frame.ownCauses);
  return isScaledByGauge(frame) ? withGaugeScale(frame, causes) : causes;
}

/**
 * P = Q/S holds for the tail of a pump-down too: a pump that takes less lifts it with the rest. The gauge of a tail is
 * foretold poorly, so here as well the pump may do what a gain does, and no spectrum decides between them.
 */
function withTail({ reference }: Frame, causes: readonly OwnCause[]): readonly OwnCause[] {
  if (!reference.lifted) return causes;
  const dense = reference.spectrum.map((height) => Math.max(0, height));
  const lifted: Variant = { dense, prior: 0, pump: 'all', moves: reference.spectra.map(() => 1) };
  const variants = [lifted, alikeOf(dense, reference.spectra.length)];
  return causes.map((cause) =>
    cause.id === 'pumping' ? { ...cause, variants: [...cause.variants, ...variants] } : cause,
  );
}

/**
 * Shares that a gauge turns into pascal know no gain: when all of them rise alike the gauge has risen, and the pump is as
 * good a reason as a gauge that reads high. Each gets what the other may do, so that no spectrum decides between them.
 * What the ioniser makes the gauge does not see: then the other shares fall, and the sum stays.
 */
function withGaugeScale({ reference }: Frame, causes: readonly OwnCause[]): readonly OwnCause[] {
  const pump = causes.find(({ id }) => id === 'pumping');
  const gain = causes.find(({ id }) => id === 'gain-up');
  const up = gain?.variants[0]?.dense;
  if (!pump || !up) return causes;
  const alike = alikeOf(up, pump.variants[0]?.moves?.length ?? 0);
  const all = pump.variants.filter((variant) => variant.pump === 'all');
  return causes.map((cause) => {
    if (cause === pump) return { ...cause, variants: [...cause.variants, alike] };
    if (cause === gain) return { ...cause, spread: pump.spread, loose: pump.loose, variants: [alike, ...all] };
    if (cause.id !== 'outgassing') return cause;
    return { ...cause, variants: cause.variants.map((variant) => withSameSum(variant, reference.spectrum)) };
  });
}

/** No gas is free to stay behind the others. */
const alikeOf = (dense: Float64Array, gases: number): Variant => ({
  dense,
  errors: dense.map((height) => ALIKE * height),
  moves: new Array<number>(gases).fill(0),
  prior: 0,
  pump: 'all',
});

function withSameSum(variant: Variant, usual: Float64Array): Variant {
  let [added, total] = [0, 0];
  for (let m = 1; m < usual.length; m++) {
    added += variant.dense[m]!;
    total += Math.max(0, usual[m]!);
  }
  if (!(total > 0)) return variant;
  const dense = variant.dense.map((value, m) => (m === 0 ? value : value - (added / total) * Math.max(0, usual[m]!)));
  return { ...variant, dense };
}

/** Nitrogen follows carbon monoxide by this share at least where a getter gives in (common practice: CO first, then N2). */
const NITROGEN_SHARE = 0.3;

interface Shown {
  readonly causes: readonly OwnCause[];
  /** Of a cause that moves single gases of the background, those that it moves and that have risen; null: it has no such. */
  readonly gasesOf: (candidate: Candidate) => readonly string[] | null;
}

export function shownBy(frame: Frame, change: Float64Array): Shown {
  const moved = movedGases(frame, change);
  const risen = moved.filter(hasRisen);
  const isGetter = nitrogenFollows(moved);
  const isWarm = !isGetter && isWarmSurface(risen) && frame.memory.overTime.warmUp === null;
  const hasOxide = frame.baseline.hasGauge || hasAny(risen, OXIDES);
  const isPossible = ({ id }: OwnCause) => (id === WARM_CAUSE ? isWarm : id !== 'outgassing' || hasOxide);
  const isCold = hasAny(risen, ['H2']) && hasAny(risen, HELD_BY_COLD);
  const isOfPump = ({ pump }: Variant) => (pump === 'getter' ? isGetter : pump !== 'cryopump' || isCold);
  const causes = ownHere(frame)
    .filter(isPossible)
    .map((cause) => (cause.id === 'pumping' ? { ...cause, variants: cause.variants.filter(isOfPump) } : cause));
  return { causes, gasesOf: (candidate) => gasesOf(candidate, frame, risen) };
}

/** What a getter that is full takes less of holds nitrogen; a warm surface gives off the same gases without it. */
function nitrogenFollows(moved: readonly Moved[]): boolean {
  const of = (gas: string) => moved.find((one) => one.gas === gas);
  const [nitrogen, oxide] = [of('N2'), of('CO')];
  if (!nitrogen || !hasRisen(nitrogen)) return false;
  return nitrogen.relative > NITROGEN_SHARE * (oxide?.relative ?? 0);
}

/** Oxides of carbon lead in what an ioniser gives off (RAL-TR-2016-008): without them only a gauge could tell it. */
const OXIDES = ['CO', 'CO2'];
/** What only a cold stage holds, or what it gives back beside carbon monoxide: hydrogen with none of them is hydrogen. */
const HELD_BY_COLD = ['He', 'N2', 'O2', 'Ar'];

const hasAny = (moved: readonly Moved[], gases: readonly string[]): boolean =>
  moved.some(({ gas }) => gases.includes(gas));

/**
 * Water that leads this far is water, of a wet wall or a leak, with some gas that it brings along; and methane that leads
 * the oxides comes from a pump, or is made on a filament (our judgement).
 */
const WATER_LEADS = 2;

function isWarmSurface(risen: readonly Moved[]): boolean {
  const most = (gases: readonly string[]) =>
    Math.max(0, ...risen.filter(({ gas }) => gases.includes(gas)).map(({ relative }) => relative));
  const oxide = most(OXIDES);
  return hasAny(risen, ['H2', 'H2O']) && most(['H2O']) < WATER_LEADS * oxide && most(['CH4']) < oxide;
}

function gasesOf({ cause, variant }: Candidate, { reference }: Frame, risen: readonly Moved[]) {
  const { moves, pump } = variant;
  const isSingle = isOwn(cause) && (pump === 'getter' || pump === 'cryopump' || cause.gases.length > 0);
  if (!isSingle || moves?.length !== reference.spectra.length) return null;
  const asked = new Set(reference.spectra.filter((_, i) => moves[i]! > 0).map(({ own }) => own.gas));
  const shown = risen.filter(({ gas }) => asked.has(gas)).sort((a, b) => b.relative - a.relative);
  return shown.length > 0 ? shown.map(({ gas }) => gas) : null;
}
