import { catalogue } from './catalogue.ts';
import { many, plural } from './plural.ts';

const SCAN = { one: 'scan', other: 'scans' };
const GAS = { one: 'gas', other: 'gases' };
const IS = { one: 'is', other: 'are' };
const scansOf = (n: number) => many(n, SCAN);
/** Low and high end; null: not known. */
type Interval = readonly [string, string] | null;
const inBrackets = (interval: Interval) => (interval === null ? '' : ` (${interval[0]}–${interval[1]})`);

/** One chamber before and after a repair, or since an alert that stands. */
export const words = catalogue({
  alert: 'Alert',
  noAlert: 'no alert',
  alertLine: (at: string, summary: string) => `${at} · ${summary}`,
  beforeAnalyser: 'Analyser',
  before: 'Before',
  after: 'After',
  factor: 'Factor',
  picture: (unit: string) => `Pressure, ${unit}`,
  proposed: 'Times as proposed',
  toAlert: 'To the alert',
  oneSide: 'There are scans on one side at most: nothing can be set against them. Other times can be set above.',
  pressureIn: (unit: string) => `pressure in ${unit}`,
  legend: { before: 'before', after: 'after', usual: 'usual range' },
  opened: (from: string, to: string) => `opened ${from}, pumped again ${to}`,
  raised: (at: string) => `alert raised ${at}`,
  noVent: 'no vent lies between',
  like: {
    state: 'State',
    'time since vent': 'Time since vent',
    temperature: 'Temperature',
    'analyser and calibration': 'Analyser, calibration',
    scans: 'Scans',
  },
  pairOf: (a: string, b: string) => `${a}, ${b}`,
  sameMeasure: (version: string) => `same, ${version}`,
  notReported: 'not reported',
  sinceAtLeast: (time: string) => `over ${time}`,
  sinceUnknown: 'not known',
  differs: 'differs',
  unlike: (names: string) => `Before and after differ in ${names}.`,
  likeInSentence: {
    state: 'state',
    'time since vent': 'time since vent',
    temperature: 'temperature',
    'analyser and calibration': 'analyser or calibration',
    scans: 'number of scans',
  },
  alike: 'Like was compared with like.',
  alikeAsFar: (names: string) => `Like was compared with like as far as is known; nobody reported the ${names}.`,
  worked: (changes: string) => `The repair worked: ${changes}, back in the usual range.`,
  workedLeak: (before: string, after: string, n: string) =>
    `The repair worked. The leak fell from ${before} to below ${after} (95 %): at least ${n} times less.`,
  workedLeakLeft: (before: string, after: string) =>
    `The repair worked. The leak fell from ${before} to ${after}, which is within what is usual here.`,
  /* clauses that stand in lists: each is whole in itself */
  fell: (gas: string, n: string) => `${gas} fell ${n} times`,
  fellAtLeast: (gas: string, n: string) => `${gas} fell at least ${n} times`,
  rose: (gas: string, n: string) => `${gas} rose ${n} times`,
  roseAtLeast: (gas: string, n: string) => `${gas} rose at least ${n} times`,
  inPart: (back: string, nBack: number, not: string, nNot: number) =>
    `The repair worked in part: ${back} ${plural(nBack, IS)} back, ${not} ${plural(nNot, IS)} still above the usual range.`,
  didNotWork: (gases: string, n: number) =>
    `The repair did not work: ${gases} ${plural(n, IS)} still above the usual range.`,
  cannotTell: (reasons: string) => `Cannot tell yet: ${reasons}.`,
  noAlertSaid: 'No alert is chosen, so nothing is said of a repair.',
  changedMost: (what: string) => `What changed most: ${what}.`,
  nothingChanged: 'No gas changed beyond what can be told.',
  nothingYet: 'Nothing to compare yet: the chamber has not been opened since it is watched.',
  nothingYetMore:
    'After a vent or a repair this page sets the time before it against the newest time in the same state, as long after the vent. Any two times can be set below.',
  missing: {
    'no scans before': () => 'no scans of the time before are there',
    'no scans after': () => 'no scans of the time after are there',
    'few scans before': (n: number) => `only ${scansOf(n)} lie before, which is too few`,
    'few scans after': (n: number) => `only ${scansOf(n)} lie after, which is too few`,
    'other state': () => 'the two times are in different states',
    'other time since vent': () => 'the two times are not equally long after a vent',
    'time since vent not known': () => 'how long after a vent the two times lie is not known',
    'other analyser': () => 'the two times were measured with different analysers',
    'alert without gases': () => 'the alert is not about a gas',
    'gas not looked for': (_: number, gases: string) => `${gases} was not looked for`,
    'no usual range': (_: number, gases: string) => `what is usual of ${gases} in this state is not known`,
    'usual range is younger': () => 'what is usual was learned after the fault had begun',
    'was usual before': (_: number, gases: string) => `${gases} did not stand above the usual range in the time before`,
    'at the edge': (_: number, gases: string) =>
      `of ${gases} it is open on which side of the edge of the usual range it lies`,
  },
  stillStands: (what: string) => `The alert still stands: ${what}.`,
  stillNothing:
    'The alert still stands. By how much cannot be told here: a gas that keeps moving has no settled value.',
  /* clauses of `stillStands`: the first that rose says against what, the rest follow it */
  isTimes: (gas: string, n: string, interval: Interval) =>
    `${gas} is ${n} times what it was before it${inBrackets(interval)}`,
  isTimesAtLeast: (gas: string, n: string) => `${gas} is at least ${n} times what it was before it`,
  alsoTimes: (gas: string, n: string, interval: Interval) => `${gas} ${n} times${inBrackets(interval)}`,
  alsoTimesAtLeast: (gas: string, n: string) => `${gas} at least ${n} times`,
  stillAlike: 'The alert still stands, though none of its gases differs from before by more than can be told.',
  /** Clauses of `stillGrowing` and `nowFalling`: `nitrogen 1.3 times an hour (1.2–1.4)`. */
  timesAnHour: (gas: string, n: string, interval: Interval) => `${gas} ${n} times an hour${inBrackets(interval)}`,
  stillGrowing: (gases: string) => `Still growing: ${gases}.`,
  nowFalling: (gases: string) => `Falling: ${gases}.`,
  notGrowing: (n: string) => `None of its gases is growing by more than ${n} times an hour.`,
  growthOpen: 'Whether its gases are still growing cannot be told here.',
  growing: (factor: string) => `growing ${factor} an hour`,
  falling: (factor: string) => `falling ${factor} an hour`,
  noLine: 'no settled value: it moves, and not along a line',
  howMoving: (at: string) =>
    `After is where each gas was at ${at}, on a robust line through its scans; before is the middle of the quiet time. Where the course of a gas is no line, the middle of its time is given, with the wide interval of a value that has not settled.`,
  fewForLine:
    'Too few scans lie in one of the two times for a line through them: there the middle of the time is given, and of what keeps moving its interval is wide.',
  noProof:
    'The chamber has not been opened since the alert, so this proves no repair: it shows the last quiet time before the alert and the newest time in the same state.',
  fewScans: 'There are few scans on one side, so the factors are rough.',
  equalAt: (at: string) => `Both will be equally long after their vents at about ${at}.`,
  soFar: (what: string) => `So far: ${what}.`,
  judgement: {
    'as usual': 'as usual',
    back: 'back in its usual range',
    'below detection again': 'below detection again',
    'still above': 'still above its usual range',
    'above now': 'above its usual range now',
    'below usual': 'below its usual range',
    'at the edge': 'cannot tell: on the edge of its usual range',
    'not seen': 'below detection before and after',
    'no usual range': 'cannot tell: nothing usual is known',
    'not looked for': 'looked for on one side only',
  },
  limitHigh: 'cannot tell: it need not be seen',
  unseen: (n: number) => `${many(n, GAS)} that neither side sees`,
  howSure:
    'The interval holds the scatter of the scans, fewer of them than there are where they resemble their neighbours, and what other gases’ patterns leave; the sensitivity is the same on both sides and drops out.',
  fieldBefore: 'Time before',
  fieldAfter: 'Time after',

  /* one scan of each side */
  spectra: 'Spectrum before and after',
  theSpectra: 'The two spectra',
  showSpectra: 'Show the spectra',
  hideSpectra: 'Hide the spectra',
  spectraAre: (before: string, after: string) =>
    `One scan of each time: bars are the scan of ${after}, outlines that of ${before}. A single scan has more noise than the values above.`,
  spectraSay: (after: string, before: string) => `${after} Outlines: the scan of ${before}.`,
  spectraTable: 'Both as a table',
  heightBefore: (unit: string) => `Before, ${unit}, N₂-equivalent`,
  heightAfter: (unit: string) => `After, ${unit}, N₂-equivalent`,
  spectraAgain: (time: string, calibration: string, catalogue: string) =>
    `The scan of ${time} was worked out again for this page, with calibration ${calibration} and catalogue ${catalogue}.`,
  belowFloor: (value: string) => `below ${value}`,
  underFloor: 'not above the noise',
  notMeasured: 'not measured',
});
