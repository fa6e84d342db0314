/** What a person can do about an analyser's calibration. */
import type { CalibrationEntry, NewCalibration, NewTask, Task } from '../../shared/contract/calibration.ts';
import { ask } from './ask.ts';

const of = (analyser: string) => `/api/v1/analysers/${encodeURIComponent(analyser)}`;
const entry = (analyser: string, id: string) => `${of(analyser)}/calibrations/${encodeURIComponent(id)}`;

export const setCalibration = (analyser: string, body: NewCalibration) =>
  ask<CalibrationEntry>(`${of(analyser)}/calibrations`, { method: 'POST', body });

export interface EnforceBody {
  readonly validFrom: string;
  readonly note: string;
}
export const enforceCalibration = (analyser: string, id: string, body: EnforceBody) =>
  ask<CalibrationEntry>(`${entry(analyser, id)}/enforce`, { method: 'POST', body });

export const withdrawCalibration = (analyser: string, id: string, note: string) =>
  ask<CalibrationEntry>(`${entry(analyser, id)}/withdraw`, { method: 'POST', body: { note } });

export const askFor = (analyser: string, body: NewTask) => ask<Task>(`${of(analyser)}/tasks`, { method: 'POST', body });

export const setDetectionMultiple = (detectionMultiple: number) =>
  ask<unknown>('/api/v1/measurement/settings', { method: 'PUT', body: { detectionMultiple } });
