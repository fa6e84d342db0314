/**
 * Every threshold of the watch, with its reason. None is tuned per chamber: what differs between chambers is learned.
 * "Measured" figures come from simulated fleets with seeds that were not used for choosing (see the bench of the watch).
 */
export const HOUR = 3600;
export const DAY = 86_400;

/** Dead band, decades: a change smaller than ×1.26 of what is usual is not worth a call (our choice; alarm practice asks for one in the scale that is judged). */
export const DEAD_BAND_DECADES = 0.1;
export const DEAD_BAND = 10 ** DEAD_BAND_DECADES - 1;
/** The same for sensitivity and gauge: hot-cathode gauges drift by 6–12 % a year and differ by ±15 % (Redhead). */
export const ANALYSER_DEAD_BAND = 10 ** 0.15 - 1;

/** A chamber with fewer quiet days than this is young: its bands are still more of the prior than of its own data. */
export const YOUNG_DAYS = 2;
/** It learns also from scans that are not quite quiet, up to so many sigma. */
export const YOUNG_QUIET_SIGMA = 6;
/** Other armed states repeat less well than base. */
export const OTHER_STATE_FACTOR = 1.3;
/** On-delay, scans; two scans do above `GROSS_SIGMA`, one if the gauge says the same (onDelay.ts, witness.ts). */
export const ON_DELAY = 3;
export const GROSS_ON_DELAY = 2;
export const GROSS_SIGMA = 20;
/** Instrument causes wait longer: they take nothing away from the chamber. */
export const INSTRUMENT_ON_DELAY = 8;
/** Off-delay, scans. */
export const OFF_DELAY = 5;
/** Share of the new scan in the running mean: about 25 scans. */
export const MEAN_SHARE = 0.08;
export const DAY_LANE_HOURS = 24;

/** Baseline: quiet scans before the watch begins; states that let gas in repeat less well and wait longer. */
export const FIRST_SCANS = 12;
export const FIRST_SCANS_GAS = 24;
/** Time constant of the following baseline, and how fast it may rise once there is a pinned reference. */
export const FOLLOW_DAYS = 5;
export const RISE_PER_MONTH = 0.2;
/** A chamber that became cleaner is followed within hours: the old level would hide the next leak. */
export const CLEANER_HOURS = 6;
export const PIN_DAYS = 3;
export const PIN_SCANS = 150;

/** Wobble of a gas load before anything is known of it: 10 %, worth 1.5 days of observation. */
export const WOBBLE = {
  prior: 0.1,
  priorGasState: 0.2,
  priorDays: 1.5,
  floor: 0.012,
  memoryDays: 20,
  common: 0.06,
} as const;
/** Sensitivity of the analyser from scan to scan and over the month since the reference was pinned. */
export const GAIN_WOBBLE = 0.03;
export const GAIN_DRIFT_PER_MONTH = 0.05;
/** Kelvin that the temperature reading does not explain; without a reading, a hall's swing. */
export const UNEXPLAINED_KELVIN = { told: 1, untold: 3 } as const;

/** Peaks of a real instrument differ from the catalogue by 10–30 %. */
export const PATTERN_ERROR = 0.25;
/** Argon's sensitivity against nitrogen's, natural-log spread: values in use lie between 1.07 and 1.4, plus transmission. */
export const ARGON_SPREAD = 0.35;
/** What a gas's own ratios move when the gas moves. */
export const OWN_PATTERN_WOBBLE = 0.25;
/** Repeatability of any peak beyond its noise. */
export const RELATIVE_FLOOR = 0.004;

/** Naming, in nats: evidence over "nothing changed", and lead over the runner-up below which it waits. */
export const LEAST_EVIDENCE = 12;
export const CLEAR_LEAD = 3;
export const WAIT_SCANS = 10;
/** Air this clear does not wait for its runner-up. */
export const CLEAR_AIR_EVIDENCE = 60;
/** Nats → odds: peak errors are not Gaussian, so evidence counts for less than it says (fitted on simulated faults). */
export const TEMPER = 0.3;
/** A contaminant whose base peak is below this share of the whole spectrum is not worth a call. */
export const LEAST_SHARE = 2e-4;

/** Nothing is judged in base for this long after another state: emission and valves settle. */
export const SKIP_SECONDS = 900;
/** Settling: slope of a pump-down tail, creep allowed to an envelope, half-life granted to air. */
export const SETTLE = { slope: 0.3, creepPerHour: 0.02, longestDays: 14, wobble: 0.15, airHalfHours: 0.5 } as const;

/** A pump-down of hours says nothing of what lies farther ahead (our choice). */
export const FORESEEABLE_SECONDS = 30 * DAY;

/** Argon alone may be an ion pump letting go: a step that does not fall is a line, anything else waits an hour. */
export const ARGON_WAIT_SECONDS = 3600;
