import { catalogue } from './catalogue.ts';

/** A person's move of an alert on its way to the server, refused, or left unsent. */
export const words = catalogue({
  over: 'over',
  underway: { acknowledge: 'acknowledging…', shelve: 'shelving…' },
  notArrivedPage: 'It did not arrive: something went wrong on this page.',
  notArrivedServer: 'It did not arrive: the server did not answer. Your words are still here.',
  notYours: (why: string) => `Not yours: ${why}`,
  othersFirst: (by: string, when: string) => `${by} acknowledged it at ${when}, while you were writing.`,
  notDone: { acknowledge: 'Not acknowledged.', shelve: 'Not shelved.' },
  notSent: 'Your words were not sent.',
  kept: (note: string) => `Your words are kept here: “${note}”`,
  about: (signature: string, chamber: string) => `${signature}, ${chamber}`,
  open: 'Open the alert',
  copy: 'Copy the words',
  copied: 'Copied',
  letGo: 'Let them go',
  seen: 'I have seen it',
});
