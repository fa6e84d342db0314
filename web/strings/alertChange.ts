import { catalogue } from './catalogue.ts';

/** The change of single masses that an alert stands on. */
export const words = catalogue({
  nEquivalent: (unit: string) => `${unit}, N₂-equivalent`,
  massChargeU: 'mass / charge, u',
  whatChanged: 'What changed',
  asATable: 'as a table <key/>',
  thisAlertDoesNotStand: 'This alert does not stand on a change of single masses: its numbers are in the evidence.',
  changeSpectrum: (words: string) => `Change spectrum. ${words}`,
  gaugeRose: (value: string) => `The gauge rose by ${value} meanwhile.`,
  gaugeFell: (value: string) => `The gauge fell by ${value} meanwhile.`,
  noSingleMassChanged: 'No single mass changed by more than its error.',
  andMore: (named: string, more: number) => `${named} and ${more} more`,
  massesRose: (n: number, names: string) => (n === 1 ? `mass ${names} rose` : `masses ${names} rose`),
  massesFell: (n: number, names: string) => (n === 1 ? `mass ${names} fell` : `masses ${names} fell`),
  changed: (changed: string) => `${changed}. The others cannot be told from no change.`,
  changedInOrder: (changed: string) =>
    `${changed}, the largest change first. The others cannot be told from no change.`,
  cannotTell: 'cannot tell',
  atMost: (value: string) => `at most ${value}`,
  giveOrTake: (value: string, error: string) => `${value}, give or take ${error}`,
  theChangeAsATable: 'The change as a table',
  massU: 'Mass, u',
  usual: 'Usual',
  change: 'Change',
  belowDetection: 'below detection',
  outlineWhatIsUsual: 'outline: what is usual',
  dashOnAPost: 'dash on a post: what came on top',
  hollowDashWhatFell: 'hollow dash: what fell',
  lineItsInterval: 'line: its 95\u00a0% interval',
  twoDotsAtMost: 'two dots: at most there, cannot be told from none',
});
