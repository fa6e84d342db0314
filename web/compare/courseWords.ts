import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import { gasSpoken } from '../notation/gas.ts';
import { words as compared } from '../strings/compare.ts';
import { words } from '../strings/compareBefore.ts';
import { factorText, type Ratio, size } from './factor.ts';

type Gas = BeforeAfter['gases'][number];
type Side = Gas['before'];
type Growth = NonNullable<NonNullable<Side>['growth']>;

const MOST_NAMED = 3;
/** An interval narrower than this is worth a third digit. */
const NARROW = 1.05;
const digitsOf = ({ low, high }: Growth): number => (high / low < NARROW ? 3 : 2);
const asRatio = ({ perHour, low, high }: Growth): Ratio => ({ ratio: perHour, ratioLow: low, ratioHigh: high });

/** `still` where it cannot be told from rest; null: the side has no line. */
export function motionOf(side: Side): 'growing' | 'falling' | 'still' | null {
  const growth = side?.growth;
  if (!growth) return null;
  return growth.low > 1 ? 'growing' : growth.high < 1 ? 'falling' : 'still';
}

/** `growing ×1.3 (1.2–1.4) an hour`, or that there is no line; null: neither is to be said. */
export function courseText(side: Side): string | null {
  if (side?.course === 'curved') return words.noLine;
  const motion = motionOf(side);
  if (!side?.growth || motion === null || motion === 'still') return null;
  return words[motion](factorText(asRatio(side.growth), digitsOf(side.growth)));
}

/** How many times an hour, from 1 up, with its interval. */
function anHour(gas: Gas): string {
  const growth = gas.after?.growth as Growth;
  const digits = digitsOf(growth);
  const ends = [size(growth.low, digits), size(growth.high, digits)];
  const [low = '', high = ''] = growth.perHour >= 1 ? ends : ends.reverse();
  return words.timesAnHour(gasSpoken(gas.gas), size(growth.perHour, digits), [low, high]);
}

/** A bound above this is no news. */
const OPEN_FROM = 2;

/** None is growing by more than so much, or that it is open; null: some of them have no line, so neither can be said. */
function restSentence(seen: readonly Gas[]): string | null {
  const growths = seen.flatMap(({ after }) => (after?.growth ? [after.growth] : []));
  if (growths.length === 0 || growths.length < seen.length) return null;
  const most = growths.reduce((one, other) => (other.high > one.high ? other : one));
  return most.high >= OPEN_FROM ? words.growthOpen : words.notGrowing(size(most.high, 3));
}

/** Whether the gases of a standing alert still grow, fall again, or rest: whole sentences. */
export function motionSentences({ gases }: BeforeAfter): string[] {
  const seen = gases.filter(({ inAlert, after }) => inAlert && after?.value != null);
  const speed = ({ after }: Gas) => Math.abs(Math.log(after?.growth?.perHour ?? 1));
  const those = (motion: 'growing' | 'falling') =>
    seen
      .filter(({ after }) => motionOf(after) === motion)
      .sort((a, b) => speed(b) - speed(a))
      .slice(0, MOST_NAMED)
      .map(anHour);
  const [growing, falling] = [those('growing'), those('falling')];
  const rest = growing.length + falling.length === 0 ? restSentence(seen) : null;
  return [
    ...(growing.length > 0 ? [words.stillGrowing(compared.list(growing))] : []),
    ...(falling.length > 0 ? [words.nowFalling(compared.list(falling))] : []),
    ...(rest === null ? [] : [rest]),
  ];
}

/** The moment that lines were read at; null: there is no line after. */
export const lineMoment = ({ gases }: BeforeAfter): string | null =>
  gases.find(({ after }) => after?.course === 'line')?.after?.at ?? null;

/** A side had too few scans for lines. */
export const hasFewForLine = ({ gases }: BeforeAfter): boolean =>
  gases.some((gas) => gas.before?.course === 'few scans' || gas.after?.course === 'few scans');
