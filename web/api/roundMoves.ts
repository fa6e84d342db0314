/** What a person can do with a round and its handover. */
import type { NewEntry } from '../../shared/contract/handover.ts';
import { ask } from './ask.ts';

const at = (id: string) => encodeURIComponent(id);
const noted = (note: string) => (note === '' ? {} : { note });

export const signRound = (area: string, note: string) =>
  ask<unknown>('/api/v1/round/sign', { method: 'POST', body: { area, ...noted(note) } });
export const countersignRound = (id: string, note: string) =>
  ask<unknown>(`/api/v1/round/${at(id)}/countersign`, { method: 'POST', body: noted(note) });
export const writeEntry = (body: NewEntry) => ask<unknown>('/api/v1/handover/entries', { method: 'POST', body });
export const closeEntry = (id: string, note: string) =>
  ask<unknown>(`/api/v1/handover/entries/${at(id)}/close`, { method: 'POST', body: noted(note) });
