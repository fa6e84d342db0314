import type { MeasuredQuantity } from '../../shared/contract/measurement.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { brief, scientific } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { words as all } from '../strings/analyser.ts';

const words = all.quantities;

export type Quantity = MeasuredQuantity;

interface QuantityWords {
  readonly title: string;
  /** A pressure follows the reader's unit; the rest has its own. */
  readonly unit: 'pressure' | 'u' | '';
  readonly scale: 'log' | 'linear';
  /** Shorter than this, a linear axis would make noise look like an event. */
  readonly least: number;
}

const WORDS: Readonly<Record<Quantity, QuantityWords>> = {
  floor: { title: words.minimumDetectablePartialPressure, unit: 'pressure', scale: 'log', least: 0 },
  decades: { title: words.dynamicRangeDecades, unit: '', scale: 'linear', least: 1 },
  kappa: { title: words.gaugeOverSum, unit: '', scale: 'linear', least: 0.4 },
  massOffset: { title: words.massScaleOffset, unit: 'u', scale: 'linear', least: 0.1 },
  width: { title: words.peakWidthAtHalf, unit: 'u', scale: 'linear', least: 0.2 },
  noise: { title: words.noiseOne, unit: 'pressure', scale: 'log', least: 0 },
  gain: { title: words.gainOfTheMultiplier, unit: '', scale: 'log', least: 0 },
  chiSquarePerDof: { title: words.perDegreeOfFreedom, unit: '', scale: 'log', least: 0 },
};

export const QUANTITIES = Object.keys(WORDS) as Quantity[];

export const quantityTitle = (quantity: Quantity): string => WORDS[quantity].title;
export const quantityScale = (quantity: Quantity) => WORDS[quantity];

export const quantityUnit = (quantity: Quantity, unit: PressureUnit): string =>
  WORDS[quantity].unit === 'pressure' ? unit : WORDS[quantity].unit;

/** From pascal, where it is a pressure, to what the reader sees. */
export const quantityValue = (quantity: Quantity, value: number, unit: PressureUnit): number =>
  WORDS[quantity].unit === 'pressure' ? fromPascal(value, unit) : value;

/** A number that is in the reader's unit already. */
export function quantityNumber(quantity: Quantity, value: number): string {
  const { unit } = WORDS[quantity];
  if (unit === 'pressure') return scientific(value);
  if (unit === 'u') return mass(value, quantity === 'massOffset' ? 3 : 2);
  return quantity === 'decades' ? value.toFixed(1) : brief(value);
}

export const withUnit = (text: string, unit: string): string => (unit === '' ? text : `${text}${NBSP}${unit}`);

/** To a hundredth; an offset, which is followed over many scans, to a thousandth. */
export const mass = (value: number, decimals = 2): string => value.toFixed(decimals).replace('-', '−');

/** An offset always carries its sign. */
export const offset = (value: number, decimals = 2): string => {
  const text = mass(value, decimals);
  const isZero = Number(value.toFixed(decimals)) === 0;
  return `${isZero ? text.replace('−', '') : value > 0 ? `+${text}` : text}${NBSP}u`;
};
