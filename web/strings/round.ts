import { catalogue } from './catalogue.ts';
import { many } from './plural.ts';

const shelvedLink = (n: number): string =>
  `<shelved>${many(n, { one: 'alert shelved', other: 'alerts shelved' })}</shelved>`;

/** The shift round. */
export const words = catalogue({
  title: 'Round',
  theRound: 'The round',
  thisShift: 'this shift',
  now: (date: string, time: string, offset: string) => `${date}, ${time} (${offset})`,
  lastSigned: (when: string, by: string) => `last round signed <round>${when}</round> by ${by}`,
  lastTaken: (when: string, by: string, took: string) =>
    `last round signed <round>${when}</round> by ${by}, taken over by ${took}`,
  neverSigned: 'no round has been signed yet',
  areasNeverSigned: (n: number) => many(n, { one: 'area never signed', other: 'areas never signed' }),
  earlier: 'earlier rounds',
  shelved: shelvedLink,
  shelvedReturns: (n: number, when: string) => `${shelvedLink(n)}, next returns ${when}`,
  note: (note: string) => `handover: ${note}`,
  toHandover: 'handover',
  nothingFits: 'No chamber fits what you look for.',
  showAll: 'Show all',

  findHint: 'chamber, tag, gas',
  filter: 'Filter',
  all: 'all',
  area: 'Area',
  kind: 'Kind',
  state: 'State',
  tag: 'Tag',
  gas: 'Gas out of its bed',
  since: 'Since the last round',
  changed: 'changed',
  keys: {
    walk: 'next, previous',
    open: 'open',
    acknowledge: 'acknowledge',
    shelve: 'shelve',
    all: 'all keys',
  },

  chambers: (n: number) => many(n, { one: 'chamber', other: 'chambers' }),
  howTo: 'height: decades from the chamber’s own baseline, one cut a decade; thin mark: last round',
  seen: 'seen',
  atRest: 'At rest',
  changeSince: {
    new: (when: string) => `new since ${when}`,
    worse: (when: string) => `worse since ${when}`,
    better: (when: string) => `better since ${when}`,
    'as expected': (_when: string) => 'as expected',
  },
  change: { new: 'new', worse: 'worse', better: 'better', 'as expected': 'as expected' },
  Change: { new: 'New', worse: 'Worse', better: 'Better', 'as expected': 'As expected' },
  alertsOpen: (n: number) => many(n, { one: 'alert open', other: 'alerts open' }),
  isShelved: 'shelved',
  shelvedUntil: (when: string) => `shelved until ${when}`,
  inHand: (by: string, when: string) => `${by}, ${when}`,
  noState: 'no state reported',
  lastReported: (state: string) => `${state}, last reported`,
  stateFor: (state: string) => `${state}, <age/>`,
  lastScan: 'last scan <age/>',
  scan: 'scan <age/>',
  grewStale: 'The last scan is old; what is drawn is the past.',
  /** What a row begins with where there is no margin to say it in. */
  leads: {
    high: 'High.',
    medium: 'Medium.',
    low: 'Low.',
    new: 'New.',
    worse: 'Worse.',
    better: 'Better.',
    'as expected': 'As expected.',
  },
  acknowledgeOf: 'Acknowledge <of/>',
  shelveOf: 'Shelve <of/>',
  openOf: 'Open <of/>',

  sign: 'Sign the round',
  signs: (n: number) => (n === 1 ? 'one area' : n === 2 ? 'both areas' : `all ${n} areas`),
  noteField: 'Note for the handover',
  noteHint: 'Note for the handover: what was done, what was promised',
  mayLook: 'You may look, not sign: signing needs the role operator; ask an admin.',
  signing: 'Signing…',
  signAs: (name: string) => `Sign as ${name}`,
  signed: (n: number) => `Signed: ${many(n, { one: 'area', other: 'areas' })}.`,
  nothingToLook: 'Nothing needs a look.',
  looked: (seen: number, need: number) =>
    `You have opened <n>${seen} of ${need}</n> that need a look;<br/>unsigned rows stay on the next shift’s page.`,
});
