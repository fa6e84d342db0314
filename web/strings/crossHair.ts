import { catalogue } from './catalogue.ts';

/** The moment at which the trend is read, and what people noted at moments. */
export const words = catalogue({
  label: 'Cross-hair at',
  field: '2026-11-27 06:04',
  how: 'press into the picture, or type a time',
  value: (gas: string, value: string) => `${gas} ${value}`,
  below: (gas: string, limit: string) => `${gas} below ${limit}`,
  nothing: 'no scan near this moment',
  spectrum: 'The spectrum then',
  note: 'Note here',
  clear: 'Take it away',
  noteAt: (when: string) => `Note at ${when}`,
  noteField: 'What was done or seen',
  keep: 'Keep the note',
  keeping: 'Keeping…',
  cancel: 'Cancel',
  chooseFirst: 'A note needs a moment: press into the trend or type a time first.',
  notesBy: (text: string, by: string) => `Note: ${text} (${by})`,
  withdrawnNote: (text: string, by: string, withdrawnBy: string) =>
    `Note, withdrawn by ${withdrawnBy}: ${text} (${by})`,
  withdraw: 'Withdraw',
  onTrend: (text: string) => `note: ${text}`,
});
