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
import { blends, oneGas } from './gasCause.ts';
import type { Vector } from './memory.ts';
import type { WatchContext } from './types.ts';
import { vapourCauses } from './vapourCauses.ts';

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
  'HCN',
  'Hg',
  'HF',
  'F2',
  'SiF4',
];
/** Nitrogen and oxygen by themselves come from a line: where nothing tells them from air, a seal is the likelier (our judgement). */
const LINE_PRIOR = -1;
/** A gas that the chamber does not name is one in fifty (our judgement). */
const UNNAMED_PRIOR = -4;
const WATCHED_LINE_GASES = new Set(['SF6', 'CF4']);

export function causesOf(context: Pick<WatchContext, 'chamber'>, masses: Vector): Cause[] {
  const listed = new Set(context.chamber.gases.map((gas) => resolveGas(gas) ?? gas));
  const causes = [airCause(context, masses), ...permanent(masses), ...vapourCauses(masses)];
  const named = new Set(causes.flatMap((cause) => (cause.single ? [cause.single] : cause.gases)));
  for (const gas of new Set([...listed, ...LINE_GASES])) {
    if (named.has(gas)) continue;
    const prior = listed.has(gas) ? 0 : gas === 'SF6' ? -0.5 : UNNAMED_PRIOR;
    causes.push(
      ...oneGas(gas, 'gas-inleak', masses, { prior, watched: listed.has(gas) || WATCHED_LINE_GASES.has(gas) }),
    );
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
  const lightHydrocarbons = blends(masses, [
    [0, [['C2H6', 1]], ['C2H6']],
    [0, [['C2H4', 1]], ['C2H4']],
    [0, [['C3H6', 1]], ['C3H6']],
    [0, [['C3H8', 1]], ['C3H8']],
    [
      0,
      [
        ['CH4', 1],
        ['C2H6', 0.3],
        ['C2H4', 0.3],
        ['C3H6', 0.2],
      ],
      ['CH4', 'C2H6', 'C2H4', 'C3H6'],
    ],
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
    ...oneGas('N2', 'gas-inleak', masses, { prior: LINE_PRIOR }),
    ...oneGas('Ar', 'gas-inleak', masses),
    ...oneGas('O2', 'gas-inleak', masses, { prior: LINE_PRIOR }),
    ...oneGas('He', 'helium', masses),
    { ...cause('H2', 'hydrogen', ['H2'], hydrogen, [hydrogen[0]!.dense]), single: 'H2' },
    { ...cause('H2O', 'water', ['H2O'], water, [water[0]!.dense]), single: 'H2O' },
    {
      ...cause('COx', 'carbon-oxides', ['CO', 'CO2'], oxides, [oxides[0]!.dense, oxides[5]!.dense]),
      triggerGases: ['CO', 'CO2'],
    },
    ...oneGas('CH4', 'methane', masses),
    // Not watched by themselves: what they have in common with oils and methane calls, and then they compete.
    { ...cause('light-hydrocarbons', 'methane', ['C2H6', 'C3H6'], lightHydrocarbons, []), prior: -1 },
  ];
}
