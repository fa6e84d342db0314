/** The analysers of the example, all invented: what each measures in, how well, and what the fleet document tells of it. */
import type { Instrument } from './plant.ts';

type Own = Pick<Instrument, 'chamber'> & Partial<Instrument>;

const quadrupole = (own: Own): Instrument => ({
  id: `${own.chamber}-a`,
  principle: 'quadrupole',
  firstMass: 1,
  lastMass: 100,
  perUnit: 1,
  unit: 'A',
  detector: 'multiplier',
  sweepSeconds: 25,
  averages: 1,
  amperesPerPascal: 8e-7,
  gain: 1000,
  calibrated: true,
  readNoiseAmperes: 4e-14,
  ownGasPa: 1.5e-9,
  fullScaleAmperes: 2e-6,
  ...own,
});

/** An ion trap gives shares of what it holds; many short sweeps are averaged into one scan. */
const ionTrap = (own: Own): Instrument => ({
  id: `${own.chamber}-a`,
  principle: 'ion trap',
  firstMass: 1,
  lastMass: 120,
  perUnit: 1,
  unit: '1',
  sweepSeconds: 0.25,
  averages: 80,
  amperesPerPascal: 6e-7,
  gain: 1,
  calibrated: false,
  readNoiseAmperes: 0,
  ownGasPa: 6e-10,
  fullScaleAmperes: Number.POSITIVE_INFINITY,
  ...own,
});

const process = (own: Own): Instrument =>
  quadrupole({ detector: 'faraday', gain: 1, readNoiseAmperes: 6e-15, ownGasPa: 2e-8, ...own });

export const INSTRUMENTS: readonly Instrument[] = [
  quadrupole({ chamber: 'east-wicket', calibrated: false, gain: 300, ownGasPa: 2e-8 }),
  quadrupole({ chamber: 'east-hub', gain: 400, amperesPerPascal: 7.2e-7, ownGasPa: 1.5e-8, statedTransmission: 0 }),
  quadrupole({
    chamber: 'east-etch-north',
    gain: 200,
    amperesPerPascal: 6.8e-7,
    lastMass: 150,
    sweepSeconds: 30,
    ownGasPa: 2e-8,
  }),
  process({ chamber: 'east-etch-south', amperesPerPascal: 1.1e-6, lastMass: 150, sweepSeconds: 30 }),
  process({ chamber: 'east-coater', amperesPerPascal: 9.5e-7, fullScaleAmperes: 1e-7 }),
  quadrupole({ chamber: 'east-nitride', unit: 'Torr', gain: 200, calibrated: false, ownGasPa: 2e-8 }),
  quadrupole({ chamber: 'east-evap', gain: 300, amperesPerPascal: 7.5e-7, lastMass: 120, statedTransmission: 0.5 }),
  quadrupole({ chamber: 'east-softclean', gain: 200, calibrated: false, ownGasPa: 2e-8 }),
  quadrupole({ chamber: 'east-anneal', unit: 'mbar', gain: 200, calibrated: false, ownGasPa: 2e-8 }),
  quadrupole({
    chamber: 'east-larder',
    gain: 500,
    multiplierLeft: 0.62,
    faradayEveryMinutes: 120,
    amperesPerPascal: 8.4e-7,
    readNoiseAmperes: 2e-15,
    ownGasPa: 1e-8,
  }),
  quadrupole({ chamber: 'heron-gate', gain: 6000, amperesPerPascal: 9e-7 }),
  quadrupole({ chamber: 'heron-crystal', gain: 5000, amperesPerPascal: 8.8e-7, lastMass: 150, sweepSeconds: 30 }),
  quadrupole({ chamber: 'heron-mirror-1', gain: 5000, amperesPerPascal: 8.1e-7 }),
  ionTrap({ chamber: 'heron-mirror-2' }),
  quadrupole({ chamber: 'heron-slit', gain: 4000, calibrated: false }),
  quadrupole({ chamber: 'heron-cell', gain: 1500, amperesPerPascal: 7e-7 }),
  quadrupole({ chamber: 'heron-prep', gain: 5000, amperesPerPascal: 8.5e-7, ownGasPa: 9e-9 }),
  ionTrap({ chamber: 'heron-prep', id: 'heron-prep-b', lastMass: 140 }),
  quadrupole({ chamber: 'heron-sample', gain: 4000, amperesPerPascal: 7.8e-7 }),
  quadrupole({ chamber: 'heron-garage', unit: 'Torr', gain: 4000, calibrated: false }),
  quadrupole({
    chamber: 'heron-detector',
    gain: 2500,
    amperesPerPascal: 7.6e-7,
    lastMass: 50,
    perUnit: 8,
    sweepSeconds: 29,
    massSlideUnitsPerDay: 0.03,
  }),
];
