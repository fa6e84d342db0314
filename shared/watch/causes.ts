/**
 * What may have happened to the gas, as directions in the space of channels. A cause may know several variants of
 * itself (argon more or less sensitive, oxygen eaten or not); the best of them speaks for it.
 *
 * Causes of the instrument and of the pumps follow from the chamber's own spectrum and are made in `ownCauses.ts`.
 */

import { resolveGas } from '../catalogue/select.ts';
import type { Signature } from '../contract/words.ts';
import { airCause } from './airCause.ts';
import type { Cause, Variant } from './cause.ts';
import type { Vector } from './memory.ts';
import { mixture, patternsOf } from './patterns.ts';
import type { WatchContext } from './types.ts';

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
/** Gases that lines, cylinders and cleaning bring even where a chamber does not name them. */
const LINE_GASES = [
  'SF6',
  'CF4',
  'NF3',
  'NH3',
  'C2F6',
  'HCl',
  'Ne',
  'Kr',
  'Xe',
  'C2H2',
  'SiH4',
  'N2O',
  'CHF3',
  'C4F8',
  'SO2',
  'H2S',
];
/** A gas that the chamber does not name is one in fifty (our judgement). */
const UNNAMED_PRIOR = -4;
const WATCHED_LINE_GASES = new Set(['SF6', 'CF4']);
const SILICONES = ['silicone', 'hexamethyldisiloxane', 'decamethylcyclopentasiloxane', 'phenyl-silicone'];

export function causesOf(context: WatchContext, masses: Vector): Cause[] {
  const listed = new Set(context.chamber.gases.map((gas) => resolveGas(gas) ?? gas));
  const causes = [airCause(context, masses), ...permanent(masses), ...heavy(masses)];
  const named = new Set(causes.flatMap((cause) => (cause.single ? [cause.single] : cause.gases)));
  for (const gas of new Set([...listed, ...LINE_GASES])) {
    if (named.has(gas)) continue;
    const prior = listed.has(gas) ? 0 : gas === 'SF6' ? -0.5 : UNNAMED_PRIOR;
    causes.push(...one(gas, 'gas-inleak', masses, { prior, watched: listed.has(gas) || WATCHED_LINE_GASES.has(gas) }));
  }
  return causes.filter(isVisible);
}

/** A cause of which the scan shows less than this share of its ions cannot be judged. */
const LEAST_VISIBLE = 0.15;
/** Channel 0 holds the total ionisation, the others its parts: nitrogen's 28 is 1 of 1.145 (NIST WebBook). */
const IONS_PER_GAUGE = 1.145;

function isVisible({ variants }: Cause): boolean {
  return variants.some(({ dense }) => {
    let seen = 0;
    for (let m = 1; m < dense.length; m++) seen += dense[m]!;
    return seen > LEAST_VISIBLE * IONS_PER_GAUGE * dense[0]!;
  });
}

interface OneGas {
  readonly prior?: number;
  readonly watched?: boolean;
}

function one(gas: string, signature: Signature, masses: Vector, { prior = 0, watched = true }: OneGas = {}): Cause[] {
  const patterns = patternsOf(gas, masses);
  if (!patterns) return [];
  const variants = patterns.variants.map((dense, i) => ({ dense, prior: i === 0 ? 0 : -0.7 }));
  const triggers = watched ? [patterns.variants[0]!] : [];
  return [{ id: gas, signature, gases: [gas], variants, triggers, prior, single: gas }];
}

function blends(
  masses: Vector,
  rows: readonly (readonly [number, readonly (readonly [string, number])[], string[]?])[],
) {
  return rows.map(
    ([prior, parts, gases]): Variant => ({ dense: mixture(parts, masses), prior, ...(gases && { gases }) }),
  );
}

function permanent(masses: Vector): Cause[] {
  const hydrogen = blends(masses, [
    [0, [['H2', 1]]],
    [
      -0.4,
      [
        ['H2', 1],
        ['CH4', 0.02],
      ],
    ],
    [
      -1,
      [
        ['H2', 1],
        ['CH4', 0.05],
      ],
    ],
  ]);
  const water = blends(masses, [
    [0, [['H2O', 1]]],
    [
      -1,
      [
        ['H2O', 1],
        ['H2', 0.1],
        ['CO', 0.03],
      ],
    ],
    [
      -1,
      [
        ['H2O', 1],
        ['H2', 0.3],
      ],
    ],
  ]);
  const oxides = blends(masses, [
    [0, [['CO', 1]], ['CO']],
    [
      0,
      [
        ['CO', 1],
        ['CO2', 0.1],
      ],
    ],
    [
      0,
      [
        ['CO', 1],
        ['CO2', 0.4],
      ],
    ],
    [
      0,
      [
        ['CO', 0.5],
        ['CO2', 1],
      ],
    ],
    [
      0,
      [
        ['CO', 0.1],
        ['CO2', 1],
      ],
    ],
    [0, [['CO2', 1]], ['CO2']],
  ]);
  const cause = (id: string, signature: Signature, gases: string[], variants: Variant[], triggers: Float64Array[]) => ({
    id,
    signature,
    gases,
    variants,
    triggers,
    prior: 0,
    single: null,
  });
  return [
    ...one('N2', 'gas-inleak', masses),
    ...one('Ar', 'gas-inleak', masses),
    ...one('O2', 'gas-inleak', masses, { prior: -1 }),
    ...one('He', 'helium', masses),
    { ...cause('H2', 'hydrogen', ['H2'], hydrogen, [hydrogen[0]!.dense]), single: 'H2' },
    { ...cause('H2O', 'water', ['H2O'], water, [water[0]!.dense]), single: 'H2O' },
    {
      ...cause('COx', 'carbon-oxides', ['CO', 'CO2'], oxides, [oxides[0]!.dense, oxides[5]!.dense]),
      triggerGases: ['CO', 'CO2'],
    },
    ...one('CH4', 'methane', masses),
  ];
}

function heavy(masses: Vector): Cause[] {
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
    ...one('perfluoropolyether', 'perfluoropolyether', masses),
    family('silicone', silicone),
    ...SOLVENTS.flatMap((gas) => one(gas, 'solvent', masses, { prior: COMMON_SOLVENTS.has(gas) ? 0 : -1 })),
  ];
}

function sum(a: Float64Array, b: Float64Array, times: number): Float64Array {
  return a.map((value, i) => value + times * b[i]!);
}
