/**
 * Causes that follow from the chamber's own spectrum: pumps that take less, an analyser that gains or loses, a gauge
 * that moves alone. Amplitudes are relative: 0.5 means half as much again.
 */

import type { Cause, Variant } from './cause.ts';
import type { Baseline } from './memory.ts';
import { pumping } from './pumpingCause.ts';
import type { Reference } from './reference.ts';
import { makeRows, once } from './rows.ts';

/** A mass scale that slides off the peak tops loses most at high mass. */
const SHIFT_POWERS = [0.5, 1, 2] as const;
/**
 * What a hot ioniser gives off while it warms up: mostly oxides of carbon (RAL-TR-2016-008). How much of each gas of the
 * background is its own differs from one to the next, so its mixture is nearly free; water is mostly of the walls.
 */
const IONISER_GAS: readonly Record<string, number>[] = [
  { CO: 1, CO2: 1, CH4: 0.7, H2: 0.5, H2O: 0.1 },
  { CO: 1, CO2: 1, H2: 1, CH4: 1, H2O: 1 },
  { CO: 1, CO2: 1.5, CH4: 1 },
];
const IONISER_LOOSE = 0.6;

export const WARM_CAUSE = 'warm-surface';
/**
 * A surface that grows warmer, a heater, a gauge or a filament that is degassed: oxides of carbon, hydrogen and water
 * together, and no nitrogen (common practice). Each desorbs by its own energy, so the mixture is as free.
 */
const WARM_GAS: readonly Record<string, number>[] = [
  { CO: 1, CO2: 1, H2: 1, H2O: 1 },
  { CO: 1, CO2: 1, H2: 0.4, H2O: 0.4 },
  { CO: 0.6, CO2: 1, H2: 0.2, H2O: 0.2 },
  { CO: 1, CO2: 1, H2: 1, H2O: 1, CH4: 0.5 },
];

/** As a gas of a line: one of several reasons for such a mixture (our judgement). */
const WARM_PRIOR = -1;

/** Directions that are watched: up, down, the gauge's, and the slid scale. */
const OWN_ROWS = 4;

/** Instrument causes with their own spread: gain moves all peaks alike within 8 %. */
export interface OwnCause extends Cause {
  readonly spread: number;
  /** Single gases may lag behind by this share: part of them is made in the ioniser, and speeds differ. */
  readonly loose: number;
  /** Judged against the dead band of instruments. */
  readonly instrument: boolean;
  /** Triggers with both signs. */
  readonly twoSided: boolean;
}

function masses(out: Float64Array, reference: Float64Array, factor: (m: number) => number): Float64Array {
  for (let m = 1; m < out.length; m++) out[m] = reference[m]! * factor(m);
  return out;
}

/** `followed`: the scan shows where its peaks stand, so a slid mass scale takes no height from them (massScale.ts). */
export function ownCauses(baseline: Baseline, { spectrum, spectra }: Reference, followed = false): OwnCause[] {
  const row = makeRows(spectrum.length, OWN_ROWS);
  const none = { gases: [], single: null };
  const instrument = { ...none, instrument: true, twoSided: false, loose: 0 };
  const pumps = pumping(spectra, spectrum.length);
  const tilt = (m: number) => 0.3 + (0.7 * baseline.masses[m - 1]!) / 50;
  // What only a naming asks for is made when it asks: in a tail these causes are made with every scan.
  const shift = once(() =>
    SHIFT_POWERS.map(
      (power): Variant => ({
        dense: masses(row(), spectrum, (m) => -Math.min(1, tilt(m) ** power)),
        prior: -0.7,
      }),
    ),
  );
  const up = masses(row(), spectrum, () => 1);
  const down = masses(row(), spectrum, () => -1);
  const gauge = row();
  gauge[0] = spectrum[0]!;
  // Gases of the background, each in its own proportion; what the analyser makes the gauge does not see.
  const mixtures = (mixes: readonly Record<string, number>[], unseen: boolean): Variant[] =>
    mixes.map((shares) => {
      const dense = row();
      const moves = spectra.map(({ own }) => shares[own.gas] ?? 0);
      spectra.forEach(({ channels }, i) => {
        for (let m = unseen ? 1 : 0; m < dense.length; m++) dense[m]! += channels[m]! * moves[i]!;
      });
      return { dense, prior: -0.7, moves, ...(unseen && { unseen }) };
    });
  const ioniser = once(() => mixtures(IONISER_GAS, true));
  const warm = once(() => mixtures(WARM_GAS, false));
  const causes: OwnCause[] = [
    {
      ...none,
      id: 'pumping',
      signature: 'pumping-loss',
      get variants() {
        return pumps.variants;
      },
      triggers: pumps.triggers,
      prior: -0.2,
      spread: 0.12,
      loose: 0.25,
      instrument: false,
      twoSided: false,
    },
    {
      ...instrument,
      id: 'gain-up',
      signature: 'sensitivity-drift',
      variants: [{ dense: up, prior: 0 }],
      triggers: [up],
      prior: -1.5,
      spread: 0.08,
    },
    {
      ...instrument,
      id: 'gain-down',
      signature: 'sensitivity-drift',
      variants: [{ dense: down, prior: 0 }],
      triggers: [down],
      prior: -0.5,
      spread: 0.08,
    },
    {
      ...instrument,
      id: 'mass-shift',
      signature: 'mass-shift',
      get variants() {
        return shift();
      },
      triggers: [masses(row(), spectrum, (m) => -Math.min(1, tilt(m)))],
      prior: -1.5,
      spread: 0.12,
    },
    {
      ...none,
      id: WARM_CAUSE,
      signature: 'carbon-oxides',
      gases: ['CO', 'CO2', 'H2', 'H2O'],
      get variants() {
        return warm();
      },
      triggers: [],
      prior: WARM_PRIOR,
      spread: 0.12,
      loose: IONISER_LOOSE,
      instrument: false,
      twoSided: false,
    },
    {
      ...none,
      id: 'outgassing',
      signature: 'analyser-outgassing',
      gases: ['CO', 'CO2', 'CH4'],
      get variants() {
        return ioniser();
      },
      triggers: [],
      prior: baseline.hasGauge ? -1 : -3,
      spread: 0.12,
      loose: IONISER_LOOSE,
      instrument: true,
      twoSided: false,
    },
  ];
  const possible = followed ? causes.filter(({ id }) => id !== 'mass-shift') : causes;
  if (!baseline.hasGauge) return possible;
  const fall = gauge.map((value) => -value);
  return [
    ...possible,
    {
      ...instrument,
      id: 'gauge-up',
      signature: 'sensitivity-drift',
      variants: [{ dense: gauge, prior: 0 }],
      triggers: [gauge],
      prior: -1,
      spread: 0.25,
    },
    {
      ...instrument,
      id: 'gauge-down',
      signature: 'impossible-pressure',
      variants: [{ dense: fall, prior: 0 }],
      triggers: [fall],
      prior: -1,
      spread: 0.25,
    },
  ];
}
