import { gasSpoken } from '../notation/gas.ts';
import { factor } from '../notation/number.ts';
import { words } from '../strings/strip.ts';
import { isOut, type Mark } from './geometry.ts';

/** What a strip knows about its chamber, beyond the marks. Ages are words that the caller has counted. */
export type Condition =
  | { readonly kind: 'live' }
  | { readonly kind: 'stale'; readonly age: string }
  | { readonly kind: 'blind'; readonly age: string }
  | { readonly kind: 'learning'; readonly progress: string }
  | { readonly kind: 'unwatched'; readonly word: string }
  | { readonly kind: 'loading' }
  | { readonly kind: 'failed' };

/** The strip in words: what a screen reader gets instead of the picture. */
export function stripSentence(marks: readonly Mark[], condition: Condition): string {
  switch (condition.kind) {
    case 'blind':
      return words.blind(condition.age);
    case 'learning':
      return words.noBaseline(condition.progress);
    case 'unwatched':
      return words.notWatched(condition.word);
    case 'loading':
      return words.loading;
    case 'failed':
      return words.failed;
    case 'stale':
      return words.stale(condition.age, described(marks));
    case 'live':
      return words.live(described(marks));
  }
}

/** What is known of the gases, a clause for each case. */
function described(marks: readonly Mark[]): readonly string[] {
  const named = (list: readonly Mark[]) => list.map((mark) => gasSpoken(mark.gas));
  const withTimes = (list: readonly Mark[]) =>
    // Above or below is said before: the sign of the factor would say it twice.
    list.map((mark) => words.times(gasSpoken(mark.gas), factor(mark.decades ?? 0).slice(1)));
  const out = marks.filter(isOut);
  const quiet = marks.filter((mark) => !isOut(mark));
  const above = out.filter((mark) => (mark.decades ?? 0) > 0);
  const below = out.filter((mark) => (mark.decades ?? 0) < 0);
  const undetected = quiet.filter((mark) => mark.status === 'below-detection');
  const unmeasured = quiet.filter((mark) => mark.status === 'not-measured');
  const atRest = quiet.filter((mark) => mark.status === 'measured' && mark.decades !== null).length;
  const unknown = quiet.filter((mark) => mark.status === 'measured' && mark.decades === null);
  return [
    above.length > 0 ? words.above(withTimes(above)) : '',
    below.length > 0 ? words.below(withTimes(below)) : '',
    words.atRest(atRest),
    undetected.length > 0 ? words.undetected(named(undetected)) : '',
    unknown.length > 0 ? words.unknown(named(unknown)) : '',
    unmeasured.length > 0 ? words.unmeasured(named(unmeasured)) : '',
  ].filter((clause) => clause !== '');
}
