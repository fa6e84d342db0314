/** Accounts of people. */
import { ChangePerson, NewPerson, PersonLine } from '../../shared/contract/access.ts';
import { object, type Static, Type } from '../../shared/contract/schema.ts';
import type { Transaction } from '../../shared/db/connect.ts';
import { PEOPLE_LOCK } from '../../shared/db/locks.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, notFound } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { hashPassword } from '../passwords.ts';
import { tellAccess } from '../sessions.ts';

type Role = PersonLine['role'];

interface PersonRow {
  login: string;
  name: string;
  role: Role;
  created_at: Date;
  last_seen_at: Date | null;
  retired_at: Date | null;
}

const present = (row: PersonRow): PersonLine => ({
  login: row.login,
  name: row.name,
  role: row.role,
  createdAt: iso(row.created_at),
  lastSeenAt: isoOrNull(row.last_seen_at),
});

const change = async (
  tx: Transaction,
  asked: { login: string; body: Static<typeof ChangePerson>; passwordHash: string | null; at: Date; by: string },
): Promise<PersonLine> => {
  const { login, body, passwordHash, at, by } = asked;
  await tx`select pg_advisory_xact_lock(${PEOPLE_LOCK})`;
  const [before] = await tx<PersonRow[]>`select * from people where login = ${login}`;
  if (!before) throw notFound(`There is no account ${login}.`);
  const role = body.role ?? before.role;
  const retiredAt = body.retired === undefined ? before.retired_at : body.retired ? (before.retired_at ?? at) : null;
  if (before.role === 'admin' && before.retired_at === null && (role !== 'admin' || retiredAt !== null)) {
    const others = await tx`
      select 1 from people where role = 'admin' and retired_at is null and login <> ${login} limit 1`;
    if (others.length === 0) throw conflict(`${login} is the last admin; make another one first.`);
  }
  const [after] = await tx<PersonRow[]>`
    update people set name = ${body.name ?? before.name}, role = ${role}, retired_at = ${retiredAt},
      password_hash = coalesce(${passwordHash}, password_hash)
    where login = ${login} returning *`;
  // A new role, a new password or the end of the account ends what was signed in before.
  if (role !== before.role || passwordHash !== null || retiredAt !== null) {
    await tx`delete from sessions where login = ${login}`;
    await tellAccess(tx, { login });
  }
  const detail = { login, fields: Object.keys(body), role, retired: retiredAt !== null };
  await audited(tx, { at, by, what: 'account changed', detail });
  return present(after as PersonRow);
};

export const peopleRoutes = (app: App, { db, now }: Deps): void => {
  const tags = ['access'];
  const config = { policy: 'admin' } as const;

  app.get(
    '/api/v1/people',
    { schema: { summary: 'Accounts', tags, response: { 200: object({ people: Type.Array(PersonLine) }) } }, config },
    async () => {
      const rows = await db.sql<PersonRow[]>`select * from people where retired_at is null order by login`;
      return { people: rows.map(present) };
    },
  );

  app.post(
    '/api/v1/people',
    { schema: { summary: 'Make an account', tags, body: NewPerson, response: { 201: PersonLine } }, config },
    async (request, reply) => {
      const { login, name, role, password } = request.body;
      const passwordHash = await hashPassword(password);
      const at = now();
      const made = await db.transaction(async (tx) => {
        const [row] = await tx<PersonRow[]>`
          insert into people (login, name, role, password_hash, created_at)
          values (${login}, ${name}, ${role}, ${passwordHash}, ${at}) on conflict do nothing returning *`;
        if (!row) throw conflict(`The login ${login} is taken.`);
        await audited(tx, { at, by: whoAsks(request).by, what: 'account made', detail: { login, role } });
        return row;
      });
      return reply.code(201).send(present(made));
    },
  );

  app.patch(
    '/api/v1/people/:login',
    {
      schema: {
        summary: 'Change an account, or retire it',
        tags,
        params: object({ login: Type.String({ maxLength: 64 }) }),
        body: ChangePerson,
        response: { 200: PersonLine },
      },
      config,
    },
    async (request) => {
      const { body } = request;
      const passwordHash = body.password === undefined ? null : await hashPassword(body.password);
      const asked = { login: request.params.login, body, passwordHash, at: now(), by: whoAsks(request).by };
      return await db.transaction((tx) => change(tx, asked));
    },
  );
};
