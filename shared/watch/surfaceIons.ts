/**
 * Ions that electrons knock off surfaces of the ioniser: O⁺, F⁺, Na⁺, K⁺ and Cl⁺ at 16, 19, 23, 39 with 41, 35 with 37,
 * without the gases that would bring them and without the gauge (common practice). Asked before any gas is: hydrogen
 * chloride has its own 36, fluorine its 38, oxygen its 32 and methane its 15.
 */
import { tolerances } from './explained.ts';
import type { Frame } from './frame.ts';
import { DEAD_BAND } from './parameters.ts';

const SURFACE_MASSES: ReadonlySet<number> = new Set([16, 19, 23, 35, 37, 39, 41]);
/** Heavier isotope over lighter: 37Cl/35Cl 0.32, 41K/39K 0.072 (IUPAC), with what an instrument makes of them. */
const ISOTOPES = [
  { light: 35, heavy: 37, most: 0.45 },
  { light: 39, heavy: 41, most: 0.15 },
] as const;

/** The masses that have risen when they are of surfaces alone; null otherwise. */
export function surfaceIonsAlone(frame: Frame, change: Float64Array): number[] | null {
  const { baseline, reference } = frame;
  const tolerance = tolerances(frame);
  const risen = baseline.masses.filter((_, i) => change[i + 1]! > tolerance[i + 1]!);
  if (risen.length === 0 || !risen.every((mass) => SURFACE_MASSES.has(mass))) return null;
  if (baseline.hasGauge && change[0]! > 0.5 * DEAD_BAND * reference.spectrum[0]!) return null;
  const height = (mass: number) => Math.max(0, change[baseline.masses.indexOf(mass) + 1] ?? 0);
  const isIsotope = ISOTOPES.every(({ light, heavy, most }) => {
    if (!risen.includes(heavy)) return true;
    return risen.includes(light) && height(heavy) < most * height(light);
  });
  return isIsotope ? risen : null;
}
