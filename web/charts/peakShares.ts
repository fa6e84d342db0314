import type { Peak } from '../../shared/contract/readings.ts';
import { words } from '../strings/charts.ts';
import { type Slot, strokeOf } from './strokes.ts';

/** One piece of a bar, from its foot upwards, as shares of the bar's height. */
export interface Piece {
  readonly gas: string | null;
  readonly slot: Slot | 'own' | 'unexplained';
  readonly from: number;
  readonly to: number;
}

/** Smaller shares cannot be seen and are left to their neighbours. */
const LEAST_SHARE = 0.03;

/** What the analyser makes itself is named in words (`low-mass foot`); a gas is a formula or an id without spaces. */
export const isOwnIon = (part: string): boolean => part.includes(' ');

const slotOf = (gas: string): Piece['slot'] => (isOwnIon(gas) ? 'own' : strokeOf(gas).slot);

/**
 * How a bar is divided. Its height is the peak on the log axis; the division inside is by share and linear, the
 * largest share at the foot, what no gas explains on top. The pieces fill the bar whole.
 */
export function piecesOf(peak: Peak): Piece[] {
  const explained = peak.parts
    .filter((part) => part.share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share)
    .map((part) => ({ gas: part.gas as string | null, slot: slotOf(part.gas), share: part.share }));
  const unexplained = Math.max(0, peak.unexplained);
  if (unexplained >= LEAST_SHARE || explained.length === 0) {
    explained.push({ gas: null, slot: 'unexplained', share: Math.max(unexplained, LEAST_SHARE) });
  }
  const sum = explained.reduce((total, { share }) => total + share, 0);
  let foot = 0;
  return explained.map(({ gas, slot, share }) => {
    const from = foot;
    foot += share / sum;
    return { gas, slot, from, to: foot };
  });
}

export interface GasShare {
  readonly name: string;
  readonly slot: Piece['slot'];
  readonly share: number;
}

export const UNEXPLAINED = 'unexplained';
export const OWN_IONS = words.analysersOwnIons;

/** How much of the whole signal each gas explains, largest first; the analyser's own ions and the rest come last. */
export function sharesOf(peaks: readonly Peak[]): GasShare[] {
  const sums = new Map<string, number>();
  const add = (name: string, height: number) => sums.set(name, (sums.get(name) ?? 0) + height);
  let total = 0;
  for (const peak of peaks) {
    const height = Math.max(0, peak.value ?? 0);
    total += height;
    for (const { gas, share } of peak.parts) add(isOwnIon(gas) ? OWN_IONS : gas, share * height);
    add(UNEXPLAINED, Math.max(0, peak.unexplained) * height);
  }
  if (total === 0) return [];
  const rank = (name: string) => (name === UNEXPLAINED ? 2 : name === OWN_IONS ? 1 : 0);
  return [...sums.entries()]
    .filter(([, sum]) => sum > 0)
    .map(([name, sum]) => ({ name, slot: legendSlot(name), share: sum / total }))
    .sort((a, b) => rank(a.name) - rank(b.name) || b.share - a.share);
}

const legendSlot = (name: string): Piece['slot'] =>
  name === UNEXPLAINED ? 'unexplained' : name === OWN_IONS ? 'own' : slotOf(name);
