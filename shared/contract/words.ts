/**
 * The words that cross HTTP: operating states, alert states, signatures, roles, units.
 *
 * Alert states: ISA-18.2 / IEC 62682. Operating states and signatures: our own list, in terms of the trade.
 */
export const OPERATING_STATES = [
  'vented',
  'roughing',
  'pump-down',
  'base',
  'gas-on',
  'plasma',
  'transfer',
  'bake',
  'cool-down',
  'regenerating',
  'activating',
  'leak-check',
  'calibration',
  'maintenance',
] as const;
export type OperatingState = (typeof OPERATING_STATES)[number];

export const PRESSURE_UNITS = ['Pa', 'mbar', 'Torr'] as const;
export type PressureUnit = (typeof PRESSURE_UNITS)[number];

/** `A` ion current, a pressure unit for an analyser that calibrates itself (N2-equivalent), `1` relative signal. */
export const SCAN_UNITS = ['A', 'Pa', 'mbar', 'Torr', '1'] as const;
export type ScanUnit = (typeof SCAN_UNITS)[number];

export const ROLES = ['viewer', 'operator', 'engineer', 'admin', 'gateway'] as const;
export type Role = (typeof ROLES)[number];

export const THEMES = ['system', 'light', 'dark'] as const;
/** Whose clock times are written by: the site's, or the reader's own. */
export const ZONE_CHOICES = ['site', 'own'] as const;

export const PRIORITIES = ['high', 'medium', 'low'] as const;
export type Priority = (typeof PRIORITIES)[number];

export const ALERT_STATES = [
  'unacknowledged',
  'acknowledged',
  'returned-unacknowledged',
  'normal',
  'shelved',
  'suppressed',
  'out-of-service',
] as const;
export type AlertState = (typeof ALERT_STATES)[number];

/** What an alert may be about: first the vacuum, then the measurement. */
export const SIGNATURES = [
  'air-leak',
  'gas-inleak',
  'water',
  'hydrocarbon-oil',
  'perfluoropolyether',
  'silicone',
  'solvent',
  'helium',
  'hydrogen',
  'carbon-oxides',
  'methane',
  'argon-bursts',
  'pumping-loss',
  'pump-down-late',
  'limit',
  'unexplained-peaks',
  'silent',
  'frozen',
  'mass-shift',
  'sensitivity-drift',
  'impossible-pressure',
  'detector-saturated',
  'analyser-outgassing',
  'noise',
] as const;
export type Signature = (typeof SIGNATURES)[number];

/**
 * One word for a chamber on the round.
 * `attention`: an open alert needs a person. `blind`: no scan for so long that nothing can be said.
 * `stale`: last scan older than three periods, or doubtful. `changed`: outside its usual range, nothing to do.
 * `learning`: no baseline yet. `unwatched`: vented, retired or in a state that disarms the watch. `rest`: nothing to do.
 */
export const HEALTH_WORDS = ['attention', 'blind', 'stale', 'changed', 'learning', 'unwatched', 'rest'] as const;
export type Health = (typeof HEALTH_WORDS)[number];

/** What people hand over in their own words: work in progress, something promised, something to keep an eye on. */
export const ENTRY_KINDS = ['work', 'promise', 'watch'] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];
