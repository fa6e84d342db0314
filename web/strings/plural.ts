import { LOCALE } from './locale.ts';

const rules = new Intl.PluralRules(LOCALE);
const counts = new Intl.NumberFormat(LOCALE, { maximumFractionDigits: 0 });

/** The forms that English has; another language fills in what its rules ask for. */
export interface Forms {
  readonly one: string;
  readonly other: string;
}

/** The form that goes with a count: `plural(1, { one: 'waits', other: 'wait' })`. */
export const plural = (n: number, forms: Forms): string => (rules.select(n) === 'one' ? forms.one : forms.other);

/** A count with its groups parted by a thin no-break space, as everywhere on the page: `1 200`. */
const grouped = (n: number): string =>
  counts
    .formatToParts(n)
    .map(({ type, value }) => (type === 'group' ? '\u202f' : value))
    .join('');

/** The count and its form: `many(3, { one: 'chamber', other: 'chambers' })` is `3 chambers`. */
export const many = (n: number, forms: Forms): string => `${grouped(n)} ${plural(n, forms)}`;

const lists = new Intl.ListFormat(LOCALE, { type: 'conjunction' });

/** `nitrogen, oxygen and argon`. */
export const listed = (words: readonly string[]): string => lists.format(words);
