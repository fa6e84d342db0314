import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import { gasSpoken } from '../notation/gas.ts';
import { plain, scientific } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { words as compared } from '../strings/compare.ts';
import { words } from '../strings/compareBefore.ts';
import { motionSentences } from './courseWords.ts';
import { size, type Times, timesOf } from './factor.ts';

export type ComparedGas = BeforeAfter['gases'][number];
type Said = (ms: number) => string;

const RATE_UNIT = 'Pa·m³/s';
const rate = (value: number): string => scientific(value);
const spoken = (gases: readonly string[]): string => compared.list(gases.map(gasSpoken));

/** `nitrogen fell 37 times`; null: nothing that can be told. */
const changeOf = (gas: ComparedGas): string | null => {
  const times = timesOf(gas);
  return times === null || gas.changed === 'no' || gas.changed === 'cannot tell' ? null : movedClause(gas, times);
};

function movedClause({ gas, changed }: ComparedGas, { n, atLeast }: Times): string {
  const name = gasSpoken(gas);
  if (changed === 'fell') return atLeast ? words.fellAtLeast(name, n) : words.fell(name, n);
  return atLeast ? words.roseAtLeast(name, n) : words.rose(name, n);
}

const present = <T>(values: readonly (T | null)[]): T[] => values.filter((value): value is T => value !== null);

/** Farthest from 1 first; a bound counts as what it is at least. */
const farFrom1 = ({ ratio, ratioLow, ratioHigh }: ComparedGas): number =>
  Math.abs(Math.log(ratio ?? (ratioHigh !== null && ratioHigh < 1 ? ratioHigh : ratioLow) ?? 1));

const MOST_NAMED = 3;

export function changedMost(gases: readonly ComparedGas[]): string | null {
  const told = [...gases]
    .sort((a, b) => farFrom1(b) - farFrom1(a))
    .flatMap((gas) => changeOf(gas) ?? [])
    .slice(0, MOST_NAMED);
  return told.length === 0 ? null : compared.list(told);
}

const between = ({ ratioLow, ratioHigh }: ComparedGas): readonly [string, string] | null =>
  ratioLow === null || ratioHigh === null || ratioLow <= 0 ? null : [size(ratioLow), size(ratioHigh)];

/** Of a gas that rose since the alert; `first` says against what. */
function standingClause(gas: ComparedGas, { n, atLeast }: Times, first: boolean): string {
  const name = gasSpoken(gas.gas);
  if (atLeast) return first ? words.isTimesAtLeast(name, n) : words.alsoTimesAtLeast(name, n);
  return first ? words.isTimes(name, n, between(gas)) : words.alsoTimes(name, n, between(gas));
}

/** What a standing alert has changed: its own gases first, and of them what rose most. */
function stillSentence({ gases }: BeforeAfter): string {
  const rank = ({ inAlert, changed }: ComparedGas) => (inAlert ? 0 : 2) + (changed === 'rose' ? 0 : 1);
  const told = gases
    .flatMap((gas) => {
      const times = gas.changed === 'rose' || gas.changed === 'fell' ? timesOf(gas) : null;
      return times === null ? [] : [{ gas, times }];
    })
    .sort((a, b) => rank(a.gas) - rank(b.gas) || farFrom1(b.gas) - farFrom1(a.gas));
  if (told.length === 0) {
    const meant = gases.filter(({ inAlert }) => inAlert);
    const settled = meant.length > 0 && meant.every(({ after }) => after?.course === 'line');
    return settled ? words.stillAlike : words.stillNothing;
  }
  const named = told.slice(0, MOST_NAMED);
  // Said in full once, of the first that rose.
  const first = named.find(({ gas }) => gas.changed === 'rose');
  const said = named.map((one) =>
    one.gas.changed === 'fell' ? movedClause(one.gas, one.times) : standingClause(one.gas, one.times, one === first),
  );
  return words.stillStands(compared.list(said));
}

function workedSentence({ leak, gases, verdict }: BeforeAfter): string {
  if (leak?.before.value != null) {
    const before = rate(leak.before.value);
    if (leak.after.value === null) {
      return words.workedLeak(before, `${rate(leak.after.high)}${NBSP}${RATE_UNIT}`, size(leak.timesLessAtLeast));
    }
    return words.workedLeakLeft(before, `${rate(leak.after.value)}${NBSP}${RATE_UNIT}`);
  }
  const back = gases.filter(({ gas }) => verdict.back.includes(gas));
  const how = present(back.map(changeOf));
  return words.worked(how.length > 0 ? compared.list(how) : spoken(verdict.back));
}

/** Why it cannot be told, one clause for each thing that is missing. */
export function missingClauses(answer: BeforeAfter): string[] {
  const { verdict, before, after } = answer;
  return verdict.missing.map(({ what, gases }) => {
    const scans = what === 'few scans before' ? before.scans : after.scans;
    return words.missing[what](scans, spoken(gases));
  });
}

/** Did the repair work? Said of nothing but what was found. */
export function repairSentence(answer: BeforeAfter): string {
  const { verdict, gases } = answer;
  switch (verdict.word) {
    case 'worked':
      return workedSentence(answer);
    case 'in part':
      return words.inPart(spoken(verdict.back), verdict.back.length, spoken(verdict.notBack), verdict.notBack.length);
    case 'did not work':
      return words.didNotWork(spoken(verdict.notBack), verdict.notBack.length);
    case 'still stands':
      return stillSentence(answer);
    case 'cannot tell':
      return words.cannotTell(compared.list(missingClauses(answer)));
    default: {
      if (answer.before.scans === 0 || answer.after.scans === 0) return words.nothingYet;
      const most = changedMost(gases);
      return most === null ? words.nothingChanged : words.changedMost(most);
    }
  }
}

/** `Before and after differ in …`; null: in nothing that is known. */
function unlikeSentence({ likeness }: BeforeAfter): string | null {
  const unlike = likeness.filter(({ is }) => is === 'differs').map(({ name }) => words.likeInSentence[name]);
  return unlike.length === 0 ? null : words.unlike(compared.list(unlike));
}

/** The heading: what differs stands before what follows from it; that an alert still stands, before everything. */
export function headSentence(answer: BeforeAfter): string {
  const unlike = unlikeSentence(answer);
  const sides = answer.before.scans > 0 && answer.after.scans > 0;
  const said = repairSentence(answer);
  return unlike === null || !sides || answer.verdict.word === 'still stands' ? said : `${unlike} ${said}`;
}

/** What stands under the likenesses: that they are alike, what has changed so far, when it can be told. */
export function beneath(answer: BeforeAfter, at: Said): string[] {
  const { likeness, verdict, gases } = answer;
  if (answer.before.scans === 0 || answer.after.scans === 0)
    return verdict.word === 'no alert' ? [words.nothingYetMore] : [];
  const unknown = likeness.filter(({ is }) => is === 'unknown').map(({ name }) => words.likeInSentence[name]);
  const stands = verdict.word === 'still stands';
  const unlike = unlikeSentence(answer);
  const like =
    unlike !== null
      ? stands
        ? unlike
        : null
      : unknown.length === 0
        ? words.alike
        : words.alikeAsFar(compared.list(unknown));
  const most = verdict.word === 'cannot tell' ? changedMost(gases) : null;
  const few = stands ? verdict.missing.filter(({ what }) => what.startsWith('few')).length > 0 : false;
  return present([
    verdict.word === 'no alert' ? words.noAlertSaid : null,
    ...(stands ? [...motionSentences(answer), words.noProof] : []),
    few ? words.fewScans : null,
    like,
    most === null ? null : words.soFar(most),
    verdict.equalAt === null ? null : words.equalAt(at(Date.parse(verdict.equalAt))),
  ]);
}

/** Judgement of a gas; a limit above the usual range is not an edge. */
export const judgementText = (gas: ComparedGas): string =>
  gas.judgement === 'at the edge' && gas.after?.value == null ? words.limitHigh : words.judgement[gas.judgement];

/** Neither side sees it: nothing to draw. */
export const isUnseen = ({ before, after }: ComparedGas): boolean => before?.value == null && after?.value == null;

export const degrees = (celsius: number | null): string =>
  celsius === null ? words.notReported : `${plain(celsius, 3)}${NBSP}°C`;
