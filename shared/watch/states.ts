/**
 * Which operating states the watch judges in. A vent, a pump-down or a bake moves every gas on purpose: nothing is
 * raised there, and nothing is learned (alarms armed and suppressed by operating state: ISA-18.2, designed suppression).
 */
import { AT_REST, EMISSION_OFF, SPECTRUM_STATES } from '../catalogue/rationalisation/armed.ts';

export const ARMED_STATES: ReadonlySet<string> = new Set(SPECTRUM_STATES);

/** States in which the chamber itself lets a gas in: what is let in is not watched there. */
export const GAS_STATES: ReadonlySet<string> = new Set(['gas-on', 'plasma', 'transfer']);

/** States that come and go within hours and leave only a short tail behind. */
export const SHORT_STATES: ReadonlySet<string> = new Set(['gas-on', 'plasma', 'transfer', 'leak-check']);

/** A limit that a person has set is an absolute pressure at rest; process gas is above it by intent. */
export const LIMIT_STATES: ReadonlySet<string> = new Set(AT_REST);

/** The analyser's emission is commonly off here, so no scan is no news (common practice). */
export const SILENT_STATES: ReadonlySet<string> = new Set(EMISSION_OFF);
