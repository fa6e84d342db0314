/**
 * The only conversions between units of the whole house.
 *
 * mbar: exactly 100 Pa (1 bar = 100 000 Pa, BIPM SI Brochure, 9th ed.).
 * Torr: exactly 101325/760 Pa (NIST SP 811, appendix B.8).
 */
export const PASCAL_PER = { Pa: 1, mbar: 100, Torr: 101_325 / 760 } as const;
export type PressureUnit = keyof typeof PASCAL_PER;

/** A pressure in pascal, given in `unit`. */
export const toPascal = (value: number, unit: PressureUnit): number => value * PASCAL_PER[unit];
/** A pressure in `unit`, given in pascal. */
export const fromPascal = (pressurePa: number, unit: PressureUnit): number => pressurePa / PASCAL_PER[unit];
