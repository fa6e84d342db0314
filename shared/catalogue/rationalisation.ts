/**
 * Version 0 of every rationalisation record (ISA-18.2 / IEC 62682): why the alert is worth a person, as the product
 * brings it. First steps, cautions and the usual priority are those of the signature; they stand in one place only.
 */
import type { Rationalisation, RationalisationRecord } from '../contract/rationalisation.ts';
import { SIGNATURES, type Signature } from '../contract/words.ts';
import type { Reasons } from './rationalisation/entry.ts';
import { priorityByMatrix } from './rationalisation/matrix.ts';
import { MEASUREMENT_REASONS } from './rationalisation/measurement.ts';
import { VACUUM_REASONS } from './rationalisation/vacuum.ts';
import { MEASUREMENT_SIGNATURES } from './signatures/measurement.ts';
import { SIGNATURES_BY_ID } from './signatures.ts';

const REASONS: Readonly<Record<Signature, Reasons>> = { ...VACUUM_REASONS, ...MEASUREMENT_REASONS };
const MEASUREMENT = new Set<string>(Object.keys(MEASUREMENT_SIGNATURES));

/** About the measurement and not about the vacuum: never suppressed because of what the chamber does. */
export const isAboutMeasurement = (signature: Signature): boolean => MEASUREMENT.has(signature);

function basisOf(signature: Signature, { limits, latch, severity, timeToRespondMinutes }: Reasons): string {
  const { usual, basis } = SIGNATURES_BY_ID[signature].priority;
  const matrix = priorityByMatrix(severity, timeToRespondMinutes);
  const differs = usual === matrix ? '' : ` Priority is ${usual}, not ${matrix} as by the matrix: ${basis}`;
  return `${limits}${latch === undefined ? '' : ` ${latch}`}${differs}`;
}

function recordOf(signature: Signature): RationalisationRecord {
  const reasons = REASONS[signature];
  const { firstSteps, cautions, priority } = SIGNATURES_BY_ID[signature];
  return {
    causes: [...reasons.causes],
    consequence: reasons.consequence,
    severity: reasons.severity,
    responseSteps: [...firstSteps],
    timeToRespondMinutes: reasons.timeToRespondMinutes,
    priority: priority.usual,
    basis: basisOf(signature, reasons),
    cautions: [...cautions],
    responder: reasons.responder,
    armedStates: [...reasons.armedStates],
    leastDecades: null,
    onDelayScans: null,
    latching: reasons.latching,
    reAlarmHours: reasons.reAlarmHours,
    owner: isAboutMeasurement(signature) ? 'measurement engineering' : 'vacuum engineering',
  };
}

export const BUILT_IN_RATIONALISATION: Readonly<Record<Signature, Rationalisation>> = Object.fromEntries(
  SIGNATURES.map((signature) => [
    signature,
    { signature, kind: null, version: 0, record: recordOf(signature), setAt: null, setBy: null, note: null },
  ]),
) as unknown as Record<Signature, Rationalisation>;
