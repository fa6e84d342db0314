import { catalogue } from './catalogue.ts';

/** What is said of an answer that is none. */
export const words = catalogue({
  noAnswer: 'The server did not answer.',
  unreadable: 'The answer could not be read.',
  answered: (status: number) => `The server answered ${status}.`,
});
