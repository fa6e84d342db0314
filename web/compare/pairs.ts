import type { Round, RoundLine } from '../../shared/contract/round.ts';
import type { CompareAddress } from './address.ts';

/** Chambers that two analysers look at: only there can one be told from the other. */
export const paired = (round: Round | undefined): RoundLine[] =>
  (round?.areas ?? []).flatMap((area) => area.chambers).filter(({ analysers }) => analysers.length > 1);

export interface Pair {
  readonly chamber: RoundLine;
  readonly first: string;
  readonly second: string;
  readonly relativeTo: string;
}

/** Water is nearly always there, and nearly always the chamber's own. */
const RELATED_FIRST = ['H2O', 'N2', 'H2', 'Ar', 'CO', 'CO2'];

/** Gases to which others can be related: those that the chamber shows, the usual ones first. */
export function relatable(chamber: RoundLine): string[] {
  const shown = Object.entries(chamber.gases)
    .filter(([, gas]) => gas.detected)
    .map(([id]) => id);
  return [
    ...RELATED_FIRST.filter((gas) => shown.includes(gas)),
    ...shown.filter((gas) => !RELATED_FIRST.includes(gas)),
  ];
}

/** What the address asks for, filled up where it says nothing or something that is not there; null: no such pair. */
export function pairOf(
  address: Pick<CompareAddress, 'chamber' | 'first' | 'second' | 'relativeTo'>,
  chambers: readonly RoundLine[],
): Pair | null {
  const chamber = address.chamber === '' ? chambers[0] : chambers.find(({ id }) => id === address.chamber);
  if (!chamber) return null;
  const { analysers } = chamber;
  const first = analysers.includes(address.first)
    ? address.first
    : (analysers.find((id) => id !== address.second) ?? '');
  const second =
    address.second !== first && analysers.includes(address.second)
      ? address.second
      : (analysers.find((id) => id !== first) ?? '');
  const relativeTo = address.relativeTo === '' ? (relatable(chamber)[0] ?? 'H2O') : address.relativeTo;
  return { chamber, first, second, relativeTo };
}
