/** Oils, fluorinated fluids, silicones and solvents: vapours with a pattern over many masses. */
import type { Signature } from '../contract/words.ts';
import type { Cause, Variant } from './cause.ts';
import { oneGas } from './gasCause.ts';
import type { Vector } from './memory.ts';
import { mixture, patternsOf } from './patterns.ts';

const SOLVENTS = [
  'acetone',
  'isopropanol',
  'CH3OH',
  'C2H5OH',
  'butanone',
  'toluene',
  'dichloromethane',
  'trichloroethylene',
];
const COMMON_SOLVENTS = new Set(['acetone', 'isopropanol', 'CH3OH', 'C2H5OH']);
const SILICONES = ['silicone', 'hexamethyldisiloxane', 'decamethylcyclopentasiloxane', 'phenyl-silicone'];

export function vapourCauses(masses: Vector): Cause[] {
  const oil = patternsOf('hydrocarbon-oil', masses)?.variants ?? [];
  const light = mixture([['heptane', 1]], masses);
  const oilVariants = [
    ...oil.map((dense) => ({ dense, prior: 0 })),
    ...oil.map((dense) => ({ dense: sum(dense, light, 1.5), prior: -0.5 })),
    { dense: light, prior: -2 },
  ];
  const silicone = SILICONES.flatMap((gas, i) =>
    (patternsOf(gas, masses)?.variants ?? []).map((dense) => ({ dense, prior: i === 0 ? 0 : -0.7 })),
  );
  const family = (signature: Signature, variants: Variant[]): Cause => ({
    id: signature,
    signature,
    gases: [signature],
    variants,
    triggers: variants.slice(0, 1).map(({ dense }) => dense),
    prior: 0,
    single: null,
  });
  return [
    family('hydrocarbon-oil', oilVariants),
    ...oneGas('perfluoropolyether', 'perfluoropolyether', masses),
    family('silicone', silicone),
    ...SOLVENTS.flatMap((gas) => oneGas(gas, 'solvent', masses, { prior: COMMON_SOLVENTS.has(gas) ? 0 : -1 })),
  ];
}

function sum(a: Float64Array, b: Float64Array, times: number): Float64Array {
  return a.map((value, i) => value + times * b[i]!);
}
