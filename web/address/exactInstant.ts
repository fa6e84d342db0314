import type { Field } from './codec.ts';

/** An instant to the millisecond: it names one scan. Empty: not set. */
export const exactInstantField: Field<string> = {
  read: (text) => {
    const ms = text === null ? Number.NaN : Date.parse(text);
    return Number.isNaN(ms) ? '' : new Date(ms).toISOString();
  },
  write: (value) => (value === '' ? null : value.replace('.000Z', 'Z')),
};
