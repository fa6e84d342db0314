/** A calibration as the contract shows it. */
import type { CalibrationEntry } from '../shared/contract/calibration.ts';
import type { CalibrationRow } from '../shared/db/calibrations.ts';
import { iso, isoOrNull } from './instant.ts';

/** What the audit calls the decision; a ticket asks for it. */
export const ENFORCED = 'calibration put in force';

export const presentCalibration = (row: CalibrationRow): CalibrationEntry => {
  const { scansFrom, scansTo, scanCount } = row;
  return {
    id: row.id,
    analyser: row.analyser,
    kind: row.kind,
    gas: row.gas,
    value: row.value,
    source: row.source,
    note: row.note,
    state: row.state,
    validFrom: isoOrNull(row.validFrom),
    validTo: isoOrNull(row.validTo),
    setAt: iso(row.setAt),
    setBy: row.setBy,
    decidedAt: isoOrNull(row.decidedAt),
    decidedBy: row.decidedBy,
    decisionNote: row.decisionNote,
    scans:
      scansFrom === null || scansTo === null ? null : { from: iso(scansFrom), to: iso(scansTo), count: scanCount ?? 0 },
  };
};
