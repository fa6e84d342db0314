/**
 * Gases of which the analyser itself makes the larger part. What it gives off comes and goes with its own temperature
 * and emission, so a rise of such a gas says little about the chamber while the recorded background is most of it.
 */
import type { Evidence } from '../contract/alerts.ts';
import type { Frame } from './frame.ts';
import type { Standing } from './memory.ts';
import { gasName } from './patterns.ts';
import type { WatchInput } from './types.ts';
import { number } from './wording.ts';

/** More than half: the gas is marked as limited by the analyser there too. */
const MOSTLY = 0.5;
/** Dead band: what the chamber adds has outgrown the background. */
const OUTGROWN = 0.4;

/** The least share among them, by the background that a person has recorded; 0 where none is known. */
export function ownShare({ analysis }: WatchInput, gases: readonly string[]): number {
  const known = analysis.measurement?.ownGas ?? [];
  if (gases.length === 0) return 0;
  return Math.min(...gases.map((gas) => known.find((entry) => entry.gas === gas)?.share ?? 0));
}

export const isMostlyOwn = ({ input }: Frame, gases: readonly string[]): boolean => ownShare(input, gases) > MOSTLY;

/** Raised as gas of the analyser, and by now mostly of the chamber: it is called by its own name. */
export const hasOutgrown = ({ input }: Frame, { signature, cause, gases }: Standing): boolean =>
  signature === 'analyser-outgassing' &&
  cause !== 'outgassing' &&
  gases.length > 0 &&
  ownShare(input, gases) < OUTGROWN;

export function ownShareEvidence({ input }: Frame, gases: readonly string[]): Evidence[] {
  return gases.map((gas) => ({
    name: `Share of ${gasName(gas)} that is the analyser's own`,
    value: ownShare(input, [gas]),
    unit: '1',
    expected: `below ${number(MOSTLY)}`,
    expectedHigh: MOSTLY,
    verdict: 'by its recorded background',
  }));
}
