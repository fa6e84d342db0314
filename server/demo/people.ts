/**
 * Who works at the example's site, all invented. They have no accounts, so that the first account is the reader's own:
 * each acts with a token of that name, which is revoked when the work is done.
 */
import type { TokenLine } from '../../shared/contract/access.ts';
import type { Server } from './http.ts';

export interface Person {
  readonly name: string;
  readonly role: 'operator' | 'engineer';
}

export const ENGINEER: Person = { name: 'Wren Ockley', role: 'engineer' };
/** Of the shift before the reader's. */
export const EARLY: Person = { name: 'Dara Mellish', role: 'operator' };
/** Takes over from them in the east bay. */
export const LATE: Person = { name: 'Joss Tarrant', role: 'operator' };
const PEOPLE: readonly Person[] = [ENGINEER, EARLY, LATE];

export interface Staff {
  /** A token of this person; the same one until they leave. */
  readonly tokenOf: (person: Person) => Promise<string>;
  readonly leave: () => Promise<void>;
}

interface Door {
  readonly server: Server;
  readonly adminToken: string;
}

/** Nobody comes in before there is something to do. Tokens that an interrupted start has left are put away. */
export async function callStaff({ server, adminToken: token }: Door): Promise<Staff> {
  const made = new Map<Person, { readonly id: string; readonly token: string }>();
  const revoke = (id: string) => server.ask({ method: 'DELETE', path: `/api/v1/tokens/${id}`, token });
  const { tokens } = await server.ask<{ tokens: readonly TokenLine[] }>({
    method: 'GET',
    path: '/api/v1/tokens',
    token,
  });
  const isOurs = ({ name, role }: TokenLine) => PEOPLE.some((person) => person.name === name && person.role === role);
  for (const { id } of tokens.filter(isOurs)) await revoke(id);
  return {
    tokenOf: async (person) => {
      const known = made.get(person);
      if (known) return known.token;
      const fresh = await server.ask<{ id: string; token: string }>({
        method: 'POST',
        path: '/api/v1/tokens',
        token,
        body: { ...person },
      });
      made.set(person, fresh);
      return fresh.token;
    },
    leave: async () => {
      for (const { id } of made.values()) await revoke(id);
      made.clear();
    },
  };
}
