/** Air, with and without its oxygen, as this chamber's pumps let it be seen. */
import type { Cause, Variant } from './cause.ts';
import type { Vector } from './memory.ts';
import { ARGON_SPREAD } from './parameters.ts';
import { AIR, mixture } from './patterns.ts';
import type { WatchContext } from './types.ts';

/** Hot parts and getters eat oxygen; a little more than air's share may be a sensitivity. */
const OXYGEN_LEFT = [0, 0.05, 0.15, 0.35, 0.6, 0.9, 1.3];
const ARGON_MASS = 40;
/** Factors on argon's sensitivity against nitrogen's, and on the ratio of pumping speeds. */
const ARGON_FACTORS = [0.45, 0.7, 1, 1.4, 2.1];

export function airCause({ chamber }: Pick<WatchContext, 'chamber'>, masses: Vector): Cause {
  const speeds = chamber.pumpingSpeedLitresPerSecond;
  const speed = (gas: string) => speeds[gas] ?? speeds.N2 ?? 1;
  // P_i = Q x_i / S_i: what the pumps take faster shows less.
  const made = (argon: number, oxygen: number) => {
    const oxides = oxygen < 0.9 ? 0.02 * (1 - oxygen) * AIR.O2 : 0;
    return mixture(
      [
        ['N2', (AIR.N2 * speed('Ar')) / speed('N2')],
        ['Ar', AIR.Ar * argon],
        ['O2', (AIR.O2 * oxygen * speed('Ar')) / speed('O2')],
        ['CO2', AIR.CO2 + oxides],
        ['H2O', 0.008],
      ],
      masses,
    );
  };
  const argonAt = masses.indexOf(ARGON_MASS) + 1;
  const firm = argonAt > 0 ? [argonAt] : [];
  const variants: Variant[] = [];
  for (const argon of ARGON_FACTORS) {
    for (const oxygen of OXYGEN_LEFT) {
      const prior = -0.5 * (Math.log(argon) / ARGON_SPREAD) ** 2 - 0.3;
      variants.push({ dense: made(argon, oxygen), prior, oxygen, firm });
    }
  }
  const gases = ['N2', 'O2', 'Ar'];
  return {
    id: 'air',
    signature: 'air-leak',
    gases,
    variants,
    triggers: [made(1, 1), made(1, 0)],
    prior: 0,
    single: null,
  };
}
