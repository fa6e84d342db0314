/**
 * What a gas does to the channels, from the catalogue: N2-equivalent Pa per Pa of gas at every mass, and its gauge
 * factor at channel 0.
 *
 * Current at m per Pa of gas, relative to nitrogen at m/z 28:  A_m = r · (c_m / Σc) / (c_28(N2) / Σc(N2)),
 * r the total ionisation relative to N2. Pa that people read come from the analysis, which knows intervals; here only
 * directions matter, and a common factor cancels.
 */
import { meanPattern } from '../analysis/pattern.ts';
import { GASES } from '../catalogue/gases.ts';
import type { CatalogueGas, FragmentRecord } from '../catalogue/types.ts';
import type { Vector } from './memory.ts';
import { PATTERN_ERROR } from './parameters.ts';

export interface GasPatterns {
  /** First the mean of all records, then each record by itself where there are several. */
  readonly variants: readonly Float64Array[];
}

const byId = new Map<string, CatalogueGas>(GASES.map((gas) => [gas.id, gas]));
export const catalogueGas = (id: string): CatalogueGas | undefined => byId.get(id);
export const gaugeFactor = (id: string): number => byId.get(id)?.relativeSensitivity.value ?? 1;
export const molarMass = (id: string): number => byId.get(id)?.molarMassGramsPerMole?.value ?? 300;
export const gasName = (id: string): string => byId.get(id)?.name ?? id;

function nitrogenShare(): number {
  const nitrogen = byId.get('N2')!;
  return nitrogen.records[0].peaks[28]! / nitrogen.primarySum;
}

function toChannelPattern(gas: CatalogueGas, heights: Iterable<[number, number]>, masses: Vector): Float64Array {
  const out = new Float64Array(masses.length + 1);
  const scale = gas.relativeSensitivity.value / gas.primarySum / nitrogenShare();
  for (const [mass, intensity] of heights) {
    const i = masses.indexOf(mass);
    if (i >= 0) out[i + 1] = intensity * scale;
  }
  out[0] = gas.relativeSensitivity.value;
  return out;
}

/** Scaled so that the base peak of the first record is 100, as the primary record is. */
function ofRecord(gas: CatalogueGas, record: FragmentRecord, baseMass: number, masses: Vector): Float64Array {
  const factor = 100 / (record.peaks[baseMass] ?? Math.max(...Object.values(record.peaks)));
  const heights = Object.entries(record.peaks).map(([m, c]): [number, number] => [Number(m), c * factor]);
  return toChannelPattern(gas, heights, masses);
}

/** Null when the gas is not in the catalogue. The first variant is the mean of its records. */
export function patternsOf(id: string, masses: Vector): GasPatterns | null {
  const gas = byId.get(id);
  if (!gas) return null;
  const mean = meanPattern(gas);
  const heights = mean.masses.map((mass, i): [number, number] => [mass, mean.intensity[i]!]);
  const variants = [toChannelPattern(gas, heights, masses)];
  if (gas.records.length > 1) {
    for (const record of gas.records) variants.push(ofRecord(gas, record, mean.baseMass, masses));
  }
  return { variants };
}

/** Fragments of a real instrument differ by 10–30 % from the published ones; the base peak errs with the sensitivity. */
const BASE_ERROR = 0.05;
/** Isotopes and doubly charged ions: records round them, leave them out, or were made at another energy. */
const SMALL_SHARE = 0.03;
const SMALL_ERROR = 0.8;
/** A record may leave out peaks of this share of its base peak. */
export const OMITTED_SHARE = 0.003;

/** Height of the largest peak. */
export function basePeak(pattern: Float64Array): number {
  let base = 0;
  for (let m = 1; m < pattern.length; m++) base = Math.max(base, Math.abs(pattern[m]!));
  return base;
}

/** One-sigma error of every peak of a pattern, in the units of the pattern. */
export function peakErrors(pattern: Float64Array): Float64Array {
  const base = basePeak(pattern);
  const out = new Float64Array(pattern.length);
  for (let m = 1; m < pattern.length; m++) {
    const height = Math.abs(pattern[m]!);
    const share = height === base ? BASE_ERROR : height < SMALL_SHARE * base ? SMALL_ERROR : PATTERN_ERROR;
    out[m] = share * height;
  }
  return out;
}

/** Σ amount × pattern; a gas that the catalogue does not hold adds nothing. */
export function mixture(parts: readonly (readonly [string, number])[], masses: Vector): Float64Array {
  const out = new Float64Array(masses.length + 1);
  for (const [id, amount] of parts) {
    const pattern = patternsOf(id, masses)?.variants[0];
    if (pattern) for (let i = 0; i < out.length; i++) out[i]! += amount * pattern[i]!;
  }
  return out;
}

/** Dry air, mole fractions: US Standard Atmosphere 1976 (CO2: present value, rounded). */
export const AIR = { N2: 0.78084, O2: 0.209476, Ar: 0.00934, CO2: 0.00042 } as const;
