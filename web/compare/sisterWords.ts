import type { Sisters } from '../../shared/contract/sisters.ts';
import { counted } from '../notation/counted.ts';
import { gasSpoken } from '../notation/gas.ts';
import { count } from '../notation/number.ts';
import { capital } from '../notation/sentence.ts';
import { words } from '../strings/compare.ts';
import { size, times } from './factor.ts';

export type SisterGas = Sisters['gases'][number];

const spoken = (gases: readonly string[]): string => words.list(gases.map(gasSpoken));

/** What makes one gas stand out. */
function standing({ gas, so, own, middle, drift }: SisterGas): string {
  const name = gasSpoken(gas);
  if (so === 'seen only here') return words.standsOnly(name);
  if (so === 'drift only' && drift) return words.standsDrift(name, times(drift.own));
  if (own !== null && middle !== null) {
    const ratio = own / middle;
    return ratio >= 1 ? words.standsHigh(name, size(ratio)) : words.standsLow(name, size(ratio));
  }
  return name;
}

/** What there is to compare with: no sister, too few for a middle, enough. */
export const amountOf = ({ sisters, least }: Sisters): 'none' | 'few' | 'enough' =>
  sisters.length === 0 ? 'none' : sisters.length < least ? 'few' : 'enough';

const MOST_NAMED = 3;

export function sistersSentence(answer: Sisters, name: string): string {
  const { verdict, sisters, state, gases } = answer;
  const inState = state ?? '';
  const named = gases.filter(({ gas }) => verdict.gases.includes(gas));
  switch (verdict.word) {
    case 'no kind':
      return words.noKind(name);
    case 'no scans':
      return state === null ? words.noScansAny(name) : words.noScans(name, state);
    case 'too few': {
      if (sisters.length === 0) return words.noSister(name, inState);
      if (sisters.length >= answer.least) return words.tooFewSeen;
      return words.tooFew(counted(sisters.length), sisters.length, inState);
    }
    case 'stands out': {
      const worst = [...named].sort((a, b) => outness(b) - outness(a)).slice(0, MOST_NAMED);
      return words.standsOut(name, words.list(worst.map(standing)));
    }
    case 'shared': {
      const [first] = named;
      const { moved, of } = first?.shared ?? { moved: 0, of: sisters.length + 1 };
      return words.sharedCause(capital(spoken(verdict.gases)), verdict.gases.length, moved, of);
    }
    default:
      return words.noneStands(name);
  }
}

const outness = ({ level, drift }: SisterGas): number => Math.max(Math.abs(level?.z ?? 0), Math.abs(drift?.z ?? 0));

export const isNobodys = ({ so, own }: SisterGas): boolean => so === 'not seen' && own === null;

export function sisterSo(gas: SisterGas): string {
  if (gas.so === 'shared' && gas.shared) return words.sharedSo(gas.shared.moved, gas.shared.of);
  if (gas.so === 'too few') return words.tooFewSee(gas.seenBy);
  return words.sisterSo[gas.so];
}

/** `+0.4`, `−12`: tenths, and whole numbers from ten up. */
export const zText = (z: number): string => {
  const size = Math.abs(z);
  return `${z < 0 ? '−' : '+'}${size < 9.95 ? size.toFixed(1) : count(size)}`;
};

/** Those that stand out first, then what they share, then the rest in the order of the server. */
const RANK: Readonly<Record<SisterGas['so'], number>> = {
  'level and drift': 0,
  'drift only': 1,
  'level only': 1,
  'seen only here': 1,
  shared: 2,
  alike: 3,
  'too few': 4,
  'not looked for': 5,
  'not seen': 5,
};
export const byStanding = (gases: readonly SisterGas[]): SisterGas[] =>
  [...gases].sort((a, b) => RANK[a.so] - RANK[b.so]);
