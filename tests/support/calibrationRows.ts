import type { CalibrationRow } from '../../shared/db/calibrations.ts';
import { MORNING } from './storedFleet.ts';

/** A sensitivity in force from the fixed morning on, unless stated otherwise. */
export const aCalibration = (id: string, stated: Partial<CalibrationRow> = {}): CalibrationRow => ({
  chamber: 'c1',
  analyser: 'c1-a',
  id,
  kind: 'sensitivity',
  gas: null,
  value: { value: 5e-7, relativeUncertainty: 0.05 },
  source: 'certificate',
  note: 'by the yearly certificate',
  state: 'in-force',
  validFrom: new Date(MORNING),
  validTo: null,
  setAt: new Date(MORNING),
  setBy: 'ann',
  decidedAt: null,
  decidedBy: null,
  decisionNote: null,
  scansFrom: null,
  scansTo: null,
  scanCount: null,
  ...stated,
});
