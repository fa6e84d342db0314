import { catalogue } from './catalogue.ts';

export const words = catalogue({
  measurementPage: {
    measurement: 'Measurement',
    measurementHowFarEach: 'Measurement<br/>how far each<br/>analyser can be trusted',
    howFarCanThe: 'How far can the analysers be trusted?',
    theAnalysers: 'The analysers',
    holdsForEveryFloor: 'holds for every floor on these pages',
    howAFloorIs: 'How a floor is counted',
    onceAnalysersAreIn:
      'Once analysers are in the fleet and send scans, each has a line here: the smallest pressure that it can see, how its sum stands to the gauge, where its mass scale lies, and how old its calibration is.',
    goToTheFleet: 'Go to the fleet',
    noAnalyserFitsWhat: 'No analyser fits what you look for.',
    takeAWordOut: 'Take a word out of the field, or show all.',
    noneWithARemark: 'none with a remark',
    withARemarkFirst: (bad: string | number) => `${bad} with a remark, first`,
  },
  analyserRows: {
    analyser: 'Analyser',
    floor: (multiple: string | number) => `Floor, ${multiple}σ`,
    decades: 'Decades',
    nowUsual: 'κ now (usual)',
    withinItsUsual: 'κ within its usual',
    massScale: 'Mass scale',
    width: 'Width',
    gain: 'Gain',
    calibrated: 'Calibrated',
    nothingMeasuredYetIts: 'nothing measured yet: its first scan fills this line',
    floorAgain: 'Floor',
    onRecord: ' on record',
    fleetDocumentOnly: 'fleet document only',
    notMeasured: 'not measured',
  },
  listFilters: {
    chamberAnalyserWords: 'chamber, analyser, words',
    area: 'Area',
    all: 'all',
    onlyThoseWithA: 'only those with a remark',
  },
  lines: {
    noAnalyserIsIn: 'No analyser is in the fleet yet.',
    nothingCanBeSaid: (all: string | number, analysers: string | number) =>
      `Nothing can be said yet: no scan has come from the ${all} ${analysers}.`,
    sentNoScanYet: 'sent no scan yet',
    beenSilentForA: 'been silent for a while',
    howTheAnalysersMeasure: (missing: string | number) => `How the analysers measure now cannot be told.${missing}`,
    nothingSpeaksAgainstThe: 'Nothing speaks against the one analyser.',
    nothingSpeaksAgainstTheAnalysers: (what: string | number, all: string | number, missing: string | number) =>
      `Nothing speaks against ${what} the ${all} analysers.${missing}`,
    anyOf: 'any of',
    of: (well: string | number) => `${well} of`,
    ofALookBefore: (
      capital: string | number,
      all: string | number,
      analysers: string | number,
      what: string | number,
      them: string | number,
      missing: string | number,
    ) => `${capital} of ${all} ${analysers} ${what} a look before you trust ${them}.${missing}`,
  },
  detectionMultiple: {
    whatStandsStandardDeviations: (multiple: string | number) =>
      `What stands ${multiple} standard deviations over the noise counts as seen; below that, a pressure is “below” the floor.`,
    changeTheMultiple: 'Change the multiple',
    changingTheMultipleNeeds: 'Changing the multiple needs the role engineer.',
    aNumberFromTo: (least: string | number, most: string | number) => `A number from ${least} to ${most}.`,
    multipleOf: 'Multiple of σ',
    itScalesTheFloors: 'It scales the floors on these pages. Alerts and stored readings keep their own 3σ.',
    saving: 'Saving…',
    save: 'Save',
    leaveAsItWas: 'Leave as it was',
  },
});
