import type { CatalogueGas, SensitivityQuality } from '../catalogue/types.ts';

/**
 * How far the sensitivity of a gas at its reference peak can be trusted on an analyser that was calibrated for
 * nitrogen only, as one standard deviation of its logarithm.
 *
 *   u² = u_catalogue² + u_instrument² + (u_tilt · ln(m_ref / 28))²
 *
 * Sources: gauges differ by up to ±15 % in relative sensitivity (P. A. Redhead, CRC Handbook, sec. 15) and relative
 * sensitivities of mass spectrometers differ far more, up to a factor of ten (C. R. Tilford, J. IEST 38(3) (1995) 30).
 */

/**
 * Relative standard deviation of a catalogue value, by how it was come by; own judgement, from the spread of records. A
 * single published value is worth what gauges differ by, 15 % (Redhead).
 */
const CATALOGUE_UNCERTAINTY: Record<SensitivityQuality, number> = {
  good: 0.1,
  fair: 0.15,
  weak: 0.35,
  poor: 0.5,
  conflicting: 0.5,
  none: 0.7,
};
/**
 * Spread between analysers of one kind in the relative sensitivity of a gas; own judgement after the sources above, set
 * so that intervals cover 98 % and not more when analysers differ by 20 % (simulated).
 */
const INSTRUMENT_UNCERTAINTY = 0.19;
/** Unknown slope of the transmission: ions at mass m arrive as (28/m)^t with t uncertain by this much. */
export const TILT_UNCERTAINTY = 0.18;
/**
 * The gas that the sensitivity was measured with. A certificate states a few per cent and hot-cathode instruments
 * drift by several per cent a year (6–12 % in 500 days for gauges, J. Vac. Sci. Technol. A, 1985): 5 % between.
 */
const CALIBRATED_UNCERTAINTY = 0.05;
/** Mass of the gas that analysers are calibrated with, and where the transmission is 1. */
export const CALIBRATION_MASS = 28;
export const CALIBRATION_GAS = 'N2';

export interface SensitivityQuestion {
  readonly gas: CatalogueGas;
  /** Largest peak of the gas that was measured. */
  readonly referenceMass: number;
  /** Relative uncertainty of that peak against the gas's base peak; 0 when it is the base peak. */
  readonly referenceError: number;
  /** Standard deviation of ln(sensitivity for nitrogen) by its certificate; absent: what a usual one is worth. */
  readonly calibrationUncertainty?: number | undefined;
}

/** The part of it that is the catalogue's: the same on every analyser that reads the gas by the catalogue. */
export const catalogueUncertainty = (gas: CatalogueGas): number =>
  gas.id === CALIBRATION_GAS ? 0 : CATALOGUE_UNCERTAINTY[gas.relativeSensitivity.quality];

export function sensitivityUncertainty(question: SensitivityQuestion): number {
  const { gas, referenceMass, referenceError, calibrationUncertainty = CALIBRATED_UNCERTAINTY } = question;
  if (gas.id === CALIBRATION_GAS) return Math.hypot(calibrationUncertainty, referenceError);
  // The spread between analysers contains a usual calibration; only what is worse comes on top.
  const excess = Math.sqrt(Math.max(0, calibrationUncertainty ** 2 - CALIBRATED_UNCERTAINTY ** 2));
  return Math.hypot(
    CATALOGUE_UNCERTAINTY[gas.relativeSensitivity.quality],
    INSTRUMENT_UNCERTAINTY,
    TILT_UNCERTAINTY * Math.log(referenceMass / CALIBRATION_MASS),
    referenceError,
    excess,
  );
}
