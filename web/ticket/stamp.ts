import { fieldValue, offsetText } from '../notation/time.ts';

/** `2026-11-27 06:04 +01:00`: a ticket is read elsewhere and later, so every time carries its date and offset. */
export const stamp = (instant: string, zone: string): string => {
  const ms = Date.parse(instant);
  return `${fieldValue(ms, zone)}\u00a0${offsetText(ms, zone)}`;
};
