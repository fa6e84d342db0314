import { catalogue } from './catalogue.ts';

export const words = catalogue({
  decideForm: {
    fromTheNextScan: (operatingState: string | number) =>
      `From the next scan on, ${operatingState} is judged against it. What was judged stays as it is.`,
    itStaysInThe: 'It stays in the history and is never used.',
    putItInForce: 'Put it in force',
    withdrawIt: 'Withdraw it',
  },
  pinForm: {
    choosingAPeriodTo: 'Choosing a period to learn from needs the role engineer.',
    learnFromAChosen: 'Learn from a chosen period',
    itIsProposedFirst: 'it is proposed first; nothing changes until it is put in force',
    theEndMustCome: 'The end must come after the start.',
    chooseATimeIn:
      'Choose a time in which the chamber was as it should be: dry, tight, nothing burning in. Scans of other states and scans with a fault are left out.',
    operatingState: 'Operating state',
    from: 'From',
    to: 'To',
    whyThisPeriodNeeded: 'Why this period (needed)',
    proposeIt: 'Propose it',
  },
  pinHistory: {
    putInForce: 'put in force',
    forScansFrom: (validFrom: string | number) => `for scans from ${validFrom}`,
    from: (from: string | number, to: string | number, what: string | number) => `from ${from} – ${to}${what}`,
    version: (operatingState: string | number, version: string | number) => `${operatingState}, version ${version}`,
    by: (what: string | number, decidedBy: string | number, decidedAt: string | number, what2: string | number) =>
      `${what} by ${decidedBy}, ${decidedAt}${what2}`,
    decided: 'decided',
  },
  proposedPins: {
    proposedForVersion: (operatingState: string | number, version: string | number) =>
      `Proposed for ${operatingState}: version ${version}`,
    learnedFrom: (from: string | number, to: string | number, what: string | number) =>
      `learned from ${from} – ${to}${what}`,
    askedBy: (setBy: string | number, setAt: string | number, note: string | number) =>
      `asked by ${setBy}, ${setAt}: “${note}”`,
    putInForce: 'Put in force…',
    withdraw: 'Withdraw…',
    puttingItInForce: 'Putting it in force needs the role engineer.',
    itSaysTheSame: (same: string | number) =>
      `It says the same of all ${same} gases as what holds now, within a tenth of a decade.`,
    notKnown: 'not known',
    whatWouldBeUsual: 'What would be usual, as a table',
    usual: 'Usual',
    now: 'Now',
    withIt: 'With it',
    so: 'So',
    cannotTell: 'cannot tell',
    withinATenthOf: (same: string | number) => `${same} within a tenth of a decade of now.`,
  },
  usualTable: {
    nothingHasBeenLearned:
      'Nothing has been learned yet. After some fifty quiet scans in an operating state the watch knows what is usual in it; an engineer can also choose the period to learn from.',
    state: 'State',
    learnedFrom: 'Learned from',
    scans: 'Scans',
    baseline: 'Baseline',
    version: (version: string | number) => `, version ${version}`,
    pinned: 'pinned',
    by: (what: string | number, what2: string | number) => `by ${what}${what2}`,
    forScansFrom: (validFrom: string | number) => `, for scans from ${validFrom}`,
    itsOwnFollowsThe: 'its own, follows the quiet scans',
  },
  pinWords: {
    beingWorkedOut: 'being worked out',
    inForce: 'in force',
    nothingLearned: 'nothing learned',
  },
});
