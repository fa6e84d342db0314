import { catalogue } from './catalogue.ts';
import { many } from './plural.ts';

export const words = catalogue({
  noScanYet: 'no scan yet',
  round: 'Round',
  noChambersYet: 'no chambers yet',
  noScansYet: 'no scans yet',
  nothingIsBeingWatchedYet:
    'Nothing is being watched yet. Four steps and about ten minutes from here, your first chamber draws itself on this page.',
  waitsForAFirstScan: (n: number) =>
    `${many(n, { one: 'chamber waits', other: 'chambers wait' })} for a first scan. Two more steps, and it draws itself on this page.`,
  yourArea: 'Your area',
  theRowThatWillAppear: 'The row that will appear',
  priorityAndState: 'priority and state',
  standHere: 'stand here',
  yourChamber: 'Your chamber',
  itsStateItsLastScan: 'its state, its last scan',
  whatIsSoSince: 'What is so, since when and how sure, in one sentence; under it the first thing to do.',
  stepByStep: 'step by step',
  anAdminHasToSay: 'An admin has to say which chambers there are; until then there is nothing to see here.',
  signInDone: (name: string) => `Sign in. Done, as ${name}.`,
  chambersDone: 'Say which chambers there are. Done; change it on the <link>fleet page</link>.',
  chambersToDo: 'Say which chambers there are.',
  aFleetIsOneDocument:
    'A fleet is one document: areas, chambers, analysers. Begin with one chamber; add the rest later by applying it again.',
  makeAToken: 'Make a token for the gateway that sends the scans.',
  itIsShownOnce: 'It is shown once. It can send scans for the analysers you name and nothing else.',
  sendOneScanCopy: 'Send one scan. Copy this as it is:',
  sendOneScanTheToken: 'Send one scan. The token of step 3 comes into this command:',
  waitingForTheFirstScan: 'Waiting for the first scan. This page changes by itself when it arrives.',
});
