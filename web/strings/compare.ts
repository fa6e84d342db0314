import { catalogue } from './catalogue.ts';
import { listed, many, plural } from './plural.ts';

const SCAN = { one: 'scan', other: 'scans' };
const SISTER = { one: 'sister', other: 'sisters' };
const GAS = { one: 'gas', other: 'gases' };
const CHAMBER = { one: 'chamber', other: 'chambers' };
const HAS = { one: 'has', other: 'have' };
const scansOf = (n: number) => many(n, SCAN);

/** The page of three comparisons, sister chambers, two analysers. Before and after is compareBefore.ts. */
export const words = catalogue({
  title: 'Compare',
  margin: 'Compare',
  modes: 'What is compared',
  mode: { before: 'Before and after', sisters: 'Sister chambers', two: 'Two analysers' },
  modeMargin: { before: 'before and after', sisters: 'sister chambers', two: 'two analysers' },
  theChambers: 'The chambers',
  theComparison: 'The comparison',
  chamber: 'Chamber',
  toChamber: 'the chamber',
  noChambers: 'There are no chambers yet: nothing can be compared.',
  noChambersMore: 'A comparison needs chambers and their scans. The fleet says which there are.',
  toFleet: 'Go to the fleet',
  noSuchChamber: (id: string) => `There is no chamber ${id}.`,
  chooseAnother: 'Choose another one:',
  gasByGas: 'Gas by gas',
  gas: 'Gas',
  so: 'So',
  below95: 'in brackets: 95 % interval',
  inSpan: (from: string, to: string) => `${from} – ${to}`,
  hatched: 'hatched: cannot tell',
  noState: 'none',
  unseenTwo: (n: number) => `${many(n, GAS)} that neither analyser sees`,
  seldom: (share: string) => `in ${share} of scans`,

  /* sister chambers */
  kindMargin: (kind: string) => `kind: ${kind}`,
  lastHours: (hours: number) => `newest scans of the last ${many(hours, { one: 'hour', other: 'hours' })}`,
  howMany: (n: number) => `The chamber among ${many(n, SISTER)}`,
  amongIn: (sisters: number, kind: string, state: string) => `${many(sisters, SISTER)} of kind ${kind} in ${state}`,
  state: 'State',
  presentState: (state: string) => `as now: ${state}`,
  standsOut: (chamber: string, what: string) => `${chamber} stands out among its sisters: ${what}.`,
  standsHigh: (gas: string, times: string) => `${gas} is ${times} times as high as the middle of them`,
  standsLow: (gas: string, times: string) => `${gas} is ${times} times lower than the middle of them`,
  standsDrift: (gas: string, times: string) => `${gas} moved to ${times} its own usual, which theirs did not`,
  standsOnly: (gas: string) => `${gas} is seen only here`,
  sharedCause: (gases: string, n: number, moved: number, of: number) =>
    `${gases} ${plural(n, HAS)} left the usual range in ${moved} of ${many(of, CHAMBER)}: look for one cause that they share, such as a pumping line, a gas line or the hall.`,
  noneStands: (chamber: string) => `No gas of ${chamber} stands out among its sisters.`,
  tooFew: (counted: string, n: number, state: string) =>
    `Cannot tell: only ${counted} ${plural(n, SISTER)} of this kind in ${state}.`,
  noSister: (chamber: string, state: string) => `${chamber} has no sister in ${state} to be compared with.`,
  whatSister: 'What a sister is',
  sisterIs:
    'Sisters are chambers with the same word as kind in the fleet document, with scans in the same state within the last day. Set side by side, the odd one shows, and so does a cause that they share.',
  sisterHow: (least: number) =>
    `Give chambers that are built and used alike the same kind in the fleet document. From ${many(least, SISTER)} on, the middle of them can be trusted; with fewer, each is shown and nothing is judged.`,
  haveSisters: 'Chambers that have sisters now',
  noneHasSisters: 'No two chambers of one kind are in the same state now.',
  missingSisters: (counted: string, n: number) =>
    `${counted} ${n === 1 ? 'sister is' : 'sisters are'} missing before it can be told.`,
  factorOnHere: 'Factor on this chamber',
  ofOwnUsual: (times: string) => `${times} of its own usual`,
  fewMeans: 'same: as this chamber. With so few sisters there is no middle, and nothing is judged.',
  tooFewSeen: 'Cannot tell: too few of its sisters see the same gases.',
  needs: (least: number) =>
    `A middle can be trusted when most chambers are in order: with fewer than ${many(least, SISTER)} one bad chamber could pull it.`,
  noKind: (chamber: string) => `${chamber} has no kind in the fleet document, so it has no sisters.`,
  noScans: (chamber: string, state: string) => `${chamber} has no scans in ${state} within the last 24 hours.`,
  noScansAny: (chamber: string) => `${chamber} has sent no scans yet, so it cannot be set among its sisters.`,
  here: 'Here',
  byLevel: 'By level',
  byDrift: 'By drift from its own usual',
  z: 'z',
  middleIs: (value: string) => `middle ${value}`,
  sisterSo: {
    alike: 'as its sisters',
    'level and drift': 'stands out, and has moved',
    'level only': 'stands out, and is so usually',
    'drift only': 'has moved; the level is as its sisters’',
    shared: 'moved with its sisters: one cause',
    'seen only here': 'seen only here',
    'not seen': 'nobody sees it',
    'too few': 'cannot tell',
    'not looked for': 'not looked for',
  },
  tooFewSee: (seen: number) => `cannot tell: ${many(seen, { one: 'sister sees it', other: 'sisters see it' })}`,
  sharedSo: (moved: number, of: number) => `moved in ${moved} of ${of} chambers: one cause`,
  sistersLegend: { here: 'this chamber', sister: 'a sister', usual: 'range in which z is within ±3.5' },
  zMeans: 'z: robust deviations of this chamber and its sisters together; beyond ±3.5 a value does not belong',
  same: 'same',
  notSeen: 'not seen',
  notLookedFor: 'not looked for',
  sisterBySister: 'Sister by sister',
  absent: (names: string) => `Of the same kind, without scans in this state: ${names}.`,
  nobodySees: (n: number) => `${many(n, GAS)} that no chamber of the kind sees`,
  ageAndScans: (age: string, n: number) => `${age}, ${scansOf(n)}`,

  /* two analysers */
  twoTitle: 'Two analysers on one chamber',
  noPair: 'No chamber has two analysers: there is nothing to compare.',
  noSecond: (chamber: string) => `${chamber} has no second analyser, so nothing can be compared there.`,
  whyTwo:
    'A second analyser on the same chamber tells the chamber’s gas from what an analyser gives off itself: what only one of them shows does not come from the chamber.',
  onOneChamber: 'on one chamber',
  scansOfBoth: (a: number, first: string, b: number, second: string) =>
    `${scansOf(a)} of ${first}, ${scansOf(b)} of ${second}`,
  nothingOfWhich: 'Nothing can be said of which of the two adds gas of its own.',
  unknownWhich: 'Nothing can be said of which analyser adds gas of its own.',
  addsGas: (analyser: string, gases: string) => `${analyser} adds gas of its own: ${gases}.`,
  bothOn: (first: string, second: string, chamber: string) => `${first} and ${second} on ${chamber}`,
  chooseOther: 'Choose another gas or another span above: this one gives nothing to compare.',
  neitherShows: 'Neither analyser shows a gas in this span: choose a longer one.',
  bothSame: 'pale: both show the same',
  markRatio: 'mark: the ratio',
  lineInterval: 'line: its 95 % interval',
  first: 'First',
  second: 'Second',
  swap: 'Swap',
  relativeTo: 'Relative to',
  secondOverFirst: 'Second over first',
  secondOverFirstIn: 'second over first',
  ratioRelativeTo: (gas: string) => `Ratio, relative to ${gas}`,

  atMost: (times: string) => `at most ${times}`,
  atLeast: (times: string) => `at least ${times}`,
  leastAfter: (times: string) => `${times} at least`,
  cannot: 'cannot tell',
  rangeTo: (value: string, low: string, high: string) => `${value} (${low} to ${high})`,
  list: (items: readonly string[]) => listed(items),
  faultSentence: (text: string) => `${text}.`,
});
