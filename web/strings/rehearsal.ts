import { catalogue } from './catalogue.ts';

export const words = catalogue({
  rehearsalPanel: {
    asking: 'Asking…',
    rehearseOnTheLast: (days: string | number) => `Rehearse on the last ${days} days`,
    workedOutFromThe: 'worked out from the stored scans; nothing is changed by it',
    theRehearsal: 'The rehearsal',
    whatFollowsWasRehearsed: 'What follows was rehearsed with other values than those above.',
    askedBy: (askedBy: string | number, moment: string | number) => `asked by ${askedBy}, ${moment}`,
    couldNotBeWorked: (nameOf: string | number, what: string | number) => `${nameOf} could not be worked out${what}`,
  },
  rehearsedDifferences: {
    whatWouldBeAnother: 'What would be another',
    what: 'What',
    alert: 'Alert',
    asItIs: 'As it is',
    withTheChange: 'With the change',
    notRaised: 'not raised',
    stillStands: ', still stands',
    to: (returnedAt: string | number) => ` to ${returnedAt}`,
  },
  wordsSaid: {
    theRehearsalCouldNot: 'The rehearsal could not be worked out.',
    workingOfDoneSo: (count: string | number, all: string | number, replace: string | number) =>
      `Working: ${count} of ${all} done, ${replace} so far.`,
    workingSoFar: (scans: string | number, what: string | number) => `Working: ${scans} ${what} so far.`,
    noScanOfThat: 'No scan of that time is stored: nothing can be said of what the change would have done.',
    in: (days: string | number, space: string | number, what: string | number) => ` in ${days}${space}${what}`,
    noAlertNeitherAs: (over: string | number) => `No alert${over}, neither as it is nor with the change.`,
    itWouldHaveChanged: (asIs: string | number, over: string | number) =>
      `It would have changed nothing: the same ${asIs}${over}.`,
    more: (gained: string | number) => `${gained} more`,
    fewer: (lost: string | number) => `${lost} fewer`,
    atAnotherTimeOr: (moved: string | number) => `${moved} at another time or priority`,
    withTheChange: (over: string | number, parts: string | number) => `With the change${over}: ${parts}.`,
    aDayAsIt: (capital: string | number, what: string | number, perDayText: string | number) =>
      `${capital} ${what} a day as it is, ${perDayText} with the change.`,
  },
});
