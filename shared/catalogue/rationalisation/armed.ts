/**
 * In which operating states a signature is judged at all. Elsewhere a vent, a pump-down or a bake moves every gas on
 * purpose: an alert that stands when such a state begins is suppressed by design until it ends (ISA-18.2).
 */
import { OPERATING_STATES, type OperatingState } from '../../contract/words.ts';

/** States in which the spectrum is judged against the chamber's own baseline. */
export const SPECTRUM_STATES: readonly OperatingState[] = [
  'base',
  'gas-on',
  'plasma',
  'transfer',
  'leak-check',
  'cool-down',
];
/** An absolute pressure at rest: process gas is above it by intent. */
export const AT_REST: readonly OperatingState[] = ['base', 'leak-check', 'cool-down'];
/** A pump-down is followed from its beginning to rest. */
export const PUMP_DOWN: readonly OperatingState[] = ['roughing', 'pump-down', 'base'];
/** A fault of the measurement is one in any state. */
export const ALWAYS: readonly OperatingState[] = OPERATING_STATES;
/** The emission is commonly off in these (common practice), so no scan is no news. */
export const EMISSION_OFF: readonly OperatingState[] = ['vented', 'roughing', 'regenerating', 'maintenance'];
export const SCANS_EXPECTED: readonly OperatingState[] = OPERATING_STATES.filter(
  (state) => !EMISSION_OFF.includes(state),
);
