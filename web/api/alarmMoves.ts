/** What an engineer can do about the alerts themselves: why they are raised, what is usual, what is kept as an example. */
import type { Rationalisation, SetRationalisation } from '../../shared/contract/rationalisation.ts';
import type { NewPin, NewRehearsal, Pin, Rehearsal, SignatureExample } from '../../shared/contract/rehearsal.ts';
import type { Signature } from '../../shared/contract/words.ts';
import { ask } from './ask.ts';

const post = <T>(path: string, body: unknown) => ask<T>(path, { method: 'POST', body });
const part = encodeURIComponent;

export const setRationalisation = (signature: Signature, body: SetRationalisation) =>
  ask<Rationalisation>(`/api/v1/rationalisation/${signature}`, { method: 'PUT', body });

export const askRehearsal = (body: NewRehearsal) => post<Rehearsal>('/api/v1/rehearsals', body);

export const proposePin = (analyser: string, body: NewPin) =>
  post<Pin>(`/api/v1/analysers/${part(analyser)}/pins`, body);
export const decidePin = (analyser: string, pin: string, move: 'enforce' | 'withdraw', note: string) =>
  post<Pin>(`/api/v1/analysers/${part(analyser)}/pins/${part(pin)}/${move}`, { note });

export const keepExample = (alert: string, note: string) =>
  post<SignatureExample>(`/api/v1/alerts/${part(alert)}/example`, note === '' ? {} : { note });
export const withdrawExample = (id: string) => post<unknown>(`/api/v1/examples/${part(id)}/withdraw`, {});
