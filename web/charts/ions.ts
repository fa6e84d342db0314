/** Names of ions by gas and mass: only those that people of the trade read off without thinking. */
const BY_GAS: Readonly<Record<string, Readonly<Record<number, string>>>> = {
  H2: { 1: 'H⁺', 2: 'H₂⁺' },
  He: { 4: 'He⁺' },
  CH4: { 12: 'C⁺', 13: 'CH⁺', 14: 'CH₂⁺', 15: 'CH₃⁺', 16: 'CH₄⁺' },
  NH3: { 16: 'NH₂⁺', 17: 'NH₃⁺' },
  H2O: { 1: 'H⁺', 16: 'O⁺', 17: 'OH⁺', 18: 'H₂O⁺' },
  Ne: { 20: 'Ne⁺', 22: '²²Ne⁺' },
  CO: { 12: 'C⁺', 16: 'O⁺', 28: 'CO⁺', 29: '¹³CO⁺' },
  N2: { 14: 'N⁺', 28: 'N₂⁺', 29: '¹⁵NN⁺' },
  O2: { 16: 'O⁺', 32: 'O₂⁺', 34: '¹⁸OO⁺' },
  Ar: { 20: 'Ar²⁺', 36: '³⁶Ar⁺', 40: 'Ar⁺' },
  CO2: { 12: 'C⁺', 16: 'O⁺', 22: 'CO₂²⁺', 28: 'CO⁺', 44: 'CO₂⁺', 45: '¹³CO₂⁺' },
  'hydrocarbon-oil': { 41: 'C₃H₅⁺', 43: 'C₃H₇⁺', 55: 'C₄H₇⁺', 57: 'C₄H₉⁺', 71: 'C₅H₁₁⁺', 85: 'C₆H₁₃⁺' },
  perfluoropolyether: { 31: 'CF⁺', 47: 'CFO⁺', 69: 'CF₃⁺' },
  silicone: { 73: 'Si(CH₃)₃⁺' },
  SF6: { 89: 'SF₃⁺', 127: 'SF₅⁺' },
};

/** The ion that a peak mostly is; a share that no gas explains gets its mass and a question mark. */
export function ionLabel(mass: number, mostlyOf: string | null, unexplained: number): string | null {
  if (unexplained > 0.5) return `${mass} ?`;
  return mostlyOf !== null && Object.hasOwn(BY_GAS, mostlyOf) ? (BY_GAS[mostlyOf]?.[mass] ?? null) : null;
}
