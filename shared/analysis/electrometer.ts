/**
 * Noise that physics does not let an ion-current measurement go below.
 *
 * Thermal (Johnson) noise of a feedback resistor R at temperature T, and shot noise of a current I, both as
 * spectral densities of current: i² = 4kT/R and i² = 2eI. Source: J. B. Johnson, Phys. Rev. 32 (1928) 97;
 * W. Schottky, Ann. Phys. 362 (1918) 541. Constants: exact in the SI since 2019 (BIPM SI Brochure, 9th ed.).
 */
export const BOLTZMANN_JOULE_PER_KELVIN = 1.380649e-23;
export const ELEMENTARY_CHARGE_COULOMB = 1.602176634e-19;

/** Thermal noise current density of a resistor, A/√Hz. At 300 K and 1e9 Ω: 4.07e-15. */
export const johnsonNoiseAmperesPerRootHertz = (resistanceOhm: number, temperatureKelvin: number): number =>
  Math.sqrt((4 * BOLTZMANN_JOULE_PER_KELVIN * temperatureKelvin) / resistanceOhm);

/** Number of singly charged ions per second in a current. 1e-15 A: 6,241.5. */
export const ionsPerSecond = (currentAmperes: number): number => currentAmperes / ELEMENTARY_CHARGE_COULOMB;

/**
 * Shot noise of a current that is averaged for a time τ: variance = (e / τ) · I, the counting statistics of I τ / e
 * ions (an average over τ has the noise bandwidth 1 / (2τ), and 2eI / (2τ) = eI / τ).
 * Returns e / τ in A: multiply by the current to get the variance.
 */
export const shotVariancePerAmpere = (averagingSeconds: number): number => ELEMENTARY_CHARGE_COULOMB / averagingSeconds;
