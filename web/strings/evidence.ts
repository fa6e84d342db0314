import { catalogue } from './catalogue.ts';

/** What was found, beside what was expected: on a chamber, an alert and a ticket. */
export const words = catalogue({
  noNumbers: 'This alert carries no numbers: its sentence is all there is.',
  weighed: 'For engineers: how the watch weighed this against other causes',
  what: 'What',
  found: 'Found',
  expected: 'Expected',
  foundWithin: 'Found within expected',
  so: 'So',
  howToRead: ['pale: what was expected', 'mark: what was found', 'line: its 95\u00a0% interval', 'arrow: at most this'],
});
