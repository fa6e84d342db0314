import { catalogue } from './catalogue.ts';

export const words = catalogue({
  findings: {
    notMeasured: 'not measured',
    itsUsualRange: (outside: string | number, so: string | number) => `${outside} its usual range; ${so}`,
    notKnownYet: 'not known yet',
    minimumDetectablePartialPressure: (detectionMultiple: string | number) =>
      `Minimum detectable partial pressure, ${detectionMultiple}σ`,
    n2EquivalentAtStandard: (detectionMultiple: string | number) =>
      `N₂-equivalent, at ${detectionMultiple} standard deviations of the noise`,
    dynamicRange: 'Dynamic range',
    decades: (value: string | number) => `${value} decades`,
    fromTheLargestPeak: 'from the largest peak of the last scan down to the floor',
    cannotTellTheSum: 'cannot tell: the sum of this analyser is scaled to the gauge',
    cannotTellNoGauge: 'cannot tell: no gauge reading has come with the scans',
    gaugeOverSum: 'Gauge over sum, κ',
    usually: (usual: string | number) => `, usually ${usual}`,
    steadyOver1Is: (scans: string | number, where: string | number) =>
      `steady over ${scans}${where}; 1 is full agreement`,
    notSteadyYet: (scans: string | number, what: string | number) => `not steady yet: ${scans}${what}`,
    since: (since: string | number) => ` since ${since}`,
    slopePer100U: (offset: string | number, space: string | number) => `, slope ${offset} per 100${space}u`,
    at5StillNarrower: 'at 5\u00a0% still narrower than one unit: neighbours stand apart',
    at5WiderThan: 'at 5\u00a0% wider than one unit: neighbours run into each other',
    massScaleOffsetAnd: 'Mass scale, offset and slope',
    cannotTellOnlyA: 'cannot tell: only a profile shows where peaks stand',
    correctedBeforeHeightsAre: (shift: string | number, space: string | number) =>
      `corrected before heights are taken; told as moved beyond ${shift}${space}u`,
    peakWidthAt50: 'Peak width at 50, 10 and 5\u00a0%',
    cannotTellOnlyAProfile: 'cannot tell: only a profile shows how wide a peak is',
    noiseOneAtMass: 'Noise, one σ at mass 28',
    from: (from: string | number, what: string | number) => `from ${from}${what}`,
    cannotTellYet: 'cannot tell yet',
    gainOfTheMultiplier: 'Gain of the multiplier',
    noMultiplierInUse: 'no multiplier in use, or Faraday and multiplier have not been seen together',
    noneOnRecord: 'none on record',
    onRecord: (onRecord: string | number) => `${onRecord} on record`,
    last: (at: string | number) => `, last ${at}`,
    measuredWithBothDetectors: (pairs: string | number, age: string | number, record: string | number) =>
      `measured with both detectors, ${pairs}${age}; ${record}`,
    takenFromTheRecord: (age: string | number) => `taken from the record, never measured here${age}`,
    perDegreeOfFreedom: 'χ² per degree of freedom',
    isWhatNoiseAnd: '1 is what noise and patterns allow; far above it the gases do not explain the spectrum',
    unexplainedShare: 'Unexplained share',
    noPeakIsLeft: 'no peak is left without a gas',
    peaksAtSeeBelow: (strange: string | number) => `peaks at ${strange}: see below which gases could give them`,
    responseTime: 'Response time',
    whatIsShorterThan: 'what is shorter than this is averaged away',
    whatIsShorterThanThis: (scanPeriodSeconds: string | number, space: string | number) =>
      `what is shorter than this is averaged away; a scan comes every ${scanPeriodSeconds}${space}s`,
  },
  scanFindings: {
    theAnalyserSOwn: 'The analyser’s own gas',
    noBackgroundOnRecord: 'no background on record',
    analyserLimited: ', analyser limited',
    cannotTellHowMuch:
      'cannot tell how much the analyser adds: a background recorded behind a closed valve would say it',
    lessThanHalfOf: 'less than half of each: the chamber’s gas can be told from it',
    moreThanHalfComes: (spoken: string | number) =>
      `${spoken}: more than half comes from the analyser, so the chamber has at most this`,
    footAtTheLowest: 'Foot at the lowest masses',
    removedOfThePeak: (removed: string | number, percent: string | number) =>
      `${removed} removed, ${percent} of the peak`,
    hydrogenIsGivenWithout: 'hydrogen is given without it',
    anIonTrapHas: 'an ion trap has none, so it is not looked for',
    nothingHadToBe: 'nothing had to be taken from hydrogen',
    ionsKnockedOffSurfaces: 'Ions knocked off surfaces',
    atOfThePeak: (ion: string | number, mass: string | number, height: string | number, percent: string | number) =>
      `${ion} at ${mass}: ${height}, ${percent} of the peak`,
    electronsFreeThemInside: 'electrons free them inside the ioniser: they are no gas of the chamber',
    notLookedForIn: 'not looked for in an ion trap',
    noPeakNeedsThem: 'no peak needs them',
    massesLeftOut: 'Masses left out',
    everyMassWasUsed: 'every mass was used',
    markedNotBelievedNo: 'marked, not believed: no gas is judged by them',
    gasesThatCannotBe: 'Gases that cannot be told apart',
    cannotTellHowMuchAgain: 'cannot tell how much',
    below: (high: string | number) => `below ${high}`,
    togetherCorrelation: (names: string | number, together: string | number, correlation: string | number) =>
      `${names}: together ${together}, correlation ${correlation}`,
    eachGasStandsOn: 'each gas stands on peaks of its own',
    theSumIsKnown: 'the sum is known, how it is divided is not',
    atOfFor: (gas: string | number, percent: string | number, parent: string | number, scans: string | number) =>
      `${gas} at ${percent} of ${parent} for ${scans}`,
    noGasHasFollowed: 'no gas has followed another all the time',
    aFixedShareOf:
      'a fixed share of another gas is more likely a wrong pattern than a gas; marking pure scans would settle it',
    unexplainedPeaks: 'Unexplained peaks',
    ofTheSignal: (mass: string | number, percent: string | number, what: string | number) =>
      `${mass} ?, ${percent} of the signal${what}`,
    everyPeakHasA: 'every peak has a gas',
    aPeakAloneDoes: 'a peak alone does not make a gas: ask what was brought in',
  },
});
