/** Tokens of programs: made by an admin, shown once, kept as a hash, revoked at once. */
import { MadeToken, NewToken, TokenLine } from '../../shared/contract/access.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import type { Role } from '../../shared/contract/words.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { impossible, notFound } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { newId, newToken, sha256Hex } from '../secrets.ts';
import { tellAccess } from '../sessions.ts';

interface TokenRow {
  id: string;
  name: string;
  role: Role;
  analysers: string[] | null;
  created_at: Date;
  last_used_at: Date | null;
}

export const tokenRoutes = (app: App, { db, now }: Deps): void => {
  app.post(
    '/api/v1/tokens',
    {
      bodyLimit: 8 * 1024 * 1024,
      schema: { summary: 'Make a token', tags: ['access'], body: NewToken, response: { 201: MadeToken } },
      config: { policy: 'admin' },
    },
    async (request, reply) => {
      const { name, role, analysers } = request.body;
      if (role !== 'gateway' && analysers !== undefined && analysers.length > 0)
        throw impossible('/analysers', 'only a gateway is made for analysers');
      if (role === 'gateway' && analysers?.length === 0)
        throw impossible('/analysers', 'names none; leave it out for a gateway that sends for all');
      const id = newId('token');
      const token = newToken();
      const at = now();
      const scope = role === 'gateway' ? (analysers ?? null) : null;
      await db.sql`
        with made as (
          insert into tokens (id, name, role, analysers, hash, created_at)
          values (${id}, ${name}, ${role}, ${scope}::text[], ${sha256Hex(token)}, ${at})
        ) ${audited(db.sql, { at, by: whoAsks(request).by, what: 'token made', detail: { id, name, role } })}`;
      return reply.code(201).send({ id, token });
    },
  );

  app.get(
    '/api/v1/tokens',
    {
      schema: {
        summary: 'Tokens in force',
        tags: ['access'],
        response: { 200: object({ tokens: Type.Array(TokenLine) }) },
      },
      config: { policy: 'admin' },
    },
    async () => {
      const rows = await db.sql<TokenRow[]>`
        select id, name, role, analysers, created_at, last_used_at from tokens
        where revoked_at is null order by created_at, id`;
      return {
        tokens: rows.map((row) => ({
          id: row.id,
          name: row.name,
          role: row.role,
          analysers: row.analysers,
          createdAt: iso(row.created_at),
          lastUsedAt: isoOrNull(row.last_used_at),
        })),
      };
    },
  );

  app.delete(
    '/api/v1/tokens/:id',
    {
      schema: {
        summary: 'Revoke a token at once',
        tags: ['access'],
        params: object({ id: Type.String({ maxLength: 64 }) }),
        response: { 204: Type.Null() },
      },
      config: { policy: 'admin' },
    },
    async (request, reply) => {
      const { id } = request.params;
      const at = now();
      const [row] = await db.sql<{ name: string }[]>`
        with revoked as (
          update tokens set revoked_at = ${at} where id = ${id} and revoked_at is null returning name
        ), noted as (
          insert into audit (at, by, what, detail)
          select ${at}, ${whoAsks(request).by}, 'token revoked', jsonb_build_object('id', ${id}::text, 'name', name)
          from revoked
        ), left_over as (
          delete from sessions where token = ${id}
        ) select name from revoked`;
      if (!row) throw notFound(`There is no token ${id} in force.`);
      await tellAccess(db.sql, { token: id });
      return reply.code(204).send(null);
    },
  );
};
