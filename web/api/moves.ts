/** What a person can do: one function per move. */
import type { Preferences } from '../../shared/contract/access.ts';
import type { VerifiedCause } from '../../shared/contract/alerts.ts';
import type { FleetChange } from '../../shared/contract/fleet.ts';
import type { Limit } from '../../shared/contract/round.ts';
import { ask } from './ask.ts';
import type { MadeTokenAnswer, NewTokenBody } from './shapes.ts';

const alertMove = (id: string, move: string, body: unknown = {}) =>
  ask<unknown>(`/api/v1/alerts/${encodeURIComponent(id)}/${move}`, { method: 'POST', body });

export const acknowledge = (id: string, note: string) => alertMove(id, 'acknowledge', note === '' ? {} : { note });
export const shelve = (id: string, until: string, reason: string) => alertMove(id, 'shelve', { until, reason });
export const unshelve = (id: string) => alertMove(id, 'unshelve');
export interface Closing {
  readonly cause: string;
  readonly note: string;
  readonly verified: VerifiedCause;
}
export const closeAlert = (id: string, { cause, note, verified }: Closing) =>
  alertMove(id, 'close', note === '' ? { cause, verified } : { cause, note, verified });
export const takeOutOfService = (id: string, until: string, reason: string) =>
  alertMove(id, 'out-of-service', { until, reason });
export const returnToService = (id: string) => alertMove(id, 'return-to-service');
export const resetAlert = (id: string, note: string) => alertMove(id, 'reset', note === '' ? {} : { note });

export interface Credentials {
  readonly login: string;
  readonly password: string;
}
export const signIn = (body: Credentials) => ask<unknown>('/api/v1/session', { method: 'POST', body });
export const signInWithToken = (token: string) =>
  ask<unknown>('/api/v1/session/token', { method: 'POST', body: { token } });
export const signOut = () => ask<unknown>('/api/v1/session', { method: 'DELETE' });
export const savePreferences = (body: Preferences) =>
  ask<Preferences>('/api/v1/me/preferences', { method: 'PUT', body });
export const setUp = (body: Credentials & { readonly key: string; readonly name: string }) =>
  ask<unknown>('/api/v1/set-up', { method: 'POST', body });

/** The document goes out as the person wrote it: the server says what is wrong with it, by field. */
export const applyFleet = (document: string, dryRun: boolean) =>
  ask<FleetChange>(`/api/v1/fleet${dryRun ? '?dryRun=true' : ''}`, { method: 'PUT', body: document });

export const makeToken = (body: NewTokenBody) => ask<MadeTokenAnswer>('/api/v1/tokens', { method: 'POST', body });
export const revokeToken = (id: string) =>
  ask<unknown>(`/api/v1/tokens/${encodeURIComponent(id)}`, { method: 'DELETE' });

export interface NewPersonBody extends Credentials {
  readonly name: string;
  readonly role: string;
}
export const addPerson = (body: NewPersonBody) => ask<unknown>('/api/v1/people', { method: 'POST', body });
export const changePerson = (login: string, body: Readonly<Record<string, unknown>>) =>
  ask<unknown>(`/api/v1/people/${encodeURIComponent(login)}`, { method: 'PATCH', body });

export const putLimits = (chamber: string, limits: readonly Limit[]) =>
  ask<unknown>(`/api/v1/chambers/${encodeURIComponent(chamber)}/limits`, { method: 'PUT', body: { limits } });
