import { NBSP } from './pressure.ts';

const UNITS = ['B', 'kB', 'MB', 'GB', 'TB', 'PB'] as const;

/** `812 B`, `1.4 GB`, `23 GB`: decimal units as disks are sold, two digits below ten, whole above. */
export function bytes(size: number): string {
  let value = size;
  let unit = 0;
  while (Math.round(value) >= 1000 && unit < UNITS.length - 1) {
    value /= 1000;
    unit += 1;
  }
  const text = unit > 0 && value < 9.95 ? value.toFixed(1) : String(Math.round(value));
  return `${text}${NBSP}${UNITS[unit]}`;
}
