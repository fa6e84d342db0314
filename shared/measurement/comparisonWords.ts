/** What a comparison of two analysers says in words: gas by gas, and which of them adds gas of its own. */
import type { ComparisonAnswer, ComparisonQuestion, GasComparison, Ratio } from './comparison.ts';
import { sayRatio } from './say.ts';

/**
 * Gases that hot ionisers make: carbon of the cathode and adsorbed water turn into CO, CO2 and CH4, and clean metal gives
 * up H2. In one study CO and CO2 made in the gauge were four fifths and more of what it measured (RAL-TR-2016-008).
 */
export const IONISER_GASES: ReadonlySet<string> = new Set(['H2', 'CH4', 'CO', 'CO2']);

const inverse = ({ ratio, ratioLow, ratioHigh }: Ratio): Ratio => ({
  ratio: ratio === null ? null : 1 / ratio,
  ratioLow: ratioHigh === null || ratioHigh === 0 ? null : 1 / ratioHigh,
  ratioHigh: ratioLow === null || ratioLow === 0 ? null : 1 / ratioLow,
});

const moreOf = (ratio: Pick<Ratio, 'ratioLow'>): 'first' | 'second' => ((ratio.ratioLow ?? 0) > 1 ? 'second' : 'first');

const sayMore = ({ ratio, ratioLow, ratioHigh }: Ratio): string => {
  if (ratio === null || ratioLow === null || ratioHigh === null) return `at least ${sayRatio(ratioLow ?? 1)} as much`;
  return `${sayRatio(ratio)} as much (${sayRatio(ratioLow)} to ${sayRatio(ratioHigh)})`;
};

export interface Told {
  readonly ratio: Ratio;
  readonly differs: GasComparison['differs'];
  readonly seen: boolean;
}

export const verdictOf = ({ ratio, differs, seen }: Told, { first, second }: ComparisonQuestion): string => {
  const { ratioLow, ratioHigh } = ratio;
  if (differs === 'yes') {
    const [more, less, as] =
      moreOf(ratio) === 'second'
        ? [second.analyser, first.analyser, ratio]
        : [first.analyser, second.analyser, inverse(ratio)];
    return `${more} shows ${sayMore(as)} as ${less}.`;
  }
  if (ratioLow !== null && ratioHigh !== null && ratio.ratio !== null)
    return differs === 'no'
      ? `No difference that can be told: ${second.analyser} shows ${sayMore(ratio)} as ${first.analyser}.`
      : `Cannot tell: ${second.analyser} shows anything from ${sayRatio(ratioLow)} to ${sayRatio(ratioHigh)} as much.`;
  return seen ? 'Cannot tell: one of them does not see it, and would not have to.' : 'Neither sees it.';
};

const list = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

const namesOf = (gases: readonly GasComparison[], nameOf: (gas: string) => string): string =>
  list(gases.map(({ gas }) => nameOf(gas)));

type Conclusion = Omit<ComparisonAnswer, 'gases'>;

const nobody = (verdict: string): Conclusion => ({ addsGas: null, verdict });

/** Twice and more is beyond what places on one chamber usually make of it (own judgement). */
const CLEARLY = 2;
const isClear = ({ ratioLow, ratioHigh }: Ratio): boolean =>
  (ratioLow ?? 0) > CLEARLY || (ratioHigh ?? Number.POSITIVE_INFINITY) < 1 / CLEARLY;

const OTHER_REASONS = 'place, dirt or calibration can do that';

/** Made gases that one side shows more of, unless it shows more of other gases as well: then the chosen gas is to blame. */
const accused = (
  made: readonly GasComparison[],
  gases: readonly GasComparison[],
  asked: ComparisonQuestion,
): Conclusion => {
  const { first, second, relativeTo, nameOf } = asked;
  const side = moreOf(made[0] as GasComparison);
  const { analyser } = side === 'second' ? second : first;
  const rest = gases.filter(({ gas }) => gas !== relativeTo && !IONISER_GASES.has(gas));
  const alike = rest.filter(({ differs }) => differs === 'no');
  const sameWay = rest.filter((one) => one.differs === 'yes' && moreOf(one) === side);
  const against = `against ${nameOf(relativeTo)}`;
  if (sameWay.length > 0 && sameWay.length >= alike.length)
    return nobody(
      `${analyser} shows more of most gases ${against}: it may be ${nameOf(relativeTo)} that the two see differently. Compare with another gas.`,
    );
  const others = rest.filter(({ differs }) => differs === 'yes');
  const beside = others.length === 0 ? '' : ` They also differ in ${namesOf(others, nameOf)}: ${OTHER_REASONS}.`;
  return {
    addsGas: { analyser, gases: made.map(({ gas }) => gas) },
    verdict: `${analyser} ${made.some(isClear) ? 'most likely adds' : 'may well add'} ${namesOf(made, nameOf)} of its own: it shows more of what hot ionisers make, ${against}. A place nearer to a source could look alike; if it falls when the emission is lowered, it is the analyser.${beside}`,
  };
};

export const concluded = (gases: readonly GasComparison[], asked: ComparisonQuestion): Conclusion => {
  const { first, second, relativeTo, nameOf } = asked;
  const names = (found: readonly GasComparison[]) => namesOf(found, nameOf);
  const against = `against ${nameOf(relativeTo)}`;
  const differing = gases.filter(({ differs }) => differs === 'yes');
  const made = differing.filter(({ gas }) => IONISER_GASES.has(gas));
  if (differing.length === 0) {
    const told = gases.some(({ gas, differs }) => gas !== relativeTo && differs === 'no');
    return nobody(told ? `No gas differs ${against} beyond what can be told.` : 'Nothing can be told from this span.');
  }
  if (made.length === 0) return nobody(`They differ in ${names(differing)} ${against}: ${OTHER_REASONS}.`);
  if (IONISER_GASES.has(relativeTo))
    return nobody(
      `They differ in ${names(differing)}, but ${nameOf(relativeTo)} may itself be made by one of them: choose water, nitrogen or argon to see which adds gas.`,
    );
  const bySecond = made.filter((one) => moreOf(one) === 'second');
  const byFirst = made.filter((one) => moreOf(one) === 'first');
  if (bySecond.length > 0 && byFirst.length > 0)
    return nobody(
      `${second.analyser} shows more ${names(bySecond)}, ${first.analyser} more ${names(byFirst)} ${against}: neither can be called the cleaner one.`,
    );
  return accused(made, gases, asked);
};
