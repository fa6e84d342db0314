/** The language that the words are written in; numbers, dates and plural forms follow it. */
export const LOCALE = 'en-GB';
