import { createHash, randomBytes } from 'node:crypto';
import type { Sql } from 'postgres';

const SECRET_BYTES = 32;
const ID_BYTES = 9;

export const newSecret = (): string => randomBytes(SECRET_BYTES).toString('base64url');
export const sha256Hex = (text: string): string => createHash('sha256').update(text).digest('hex');

/** Makes a token with the role admin; only its hash stays. Earlier ones of the same name are revoked. */
export async function makeAdminToken(sql: Sql, name: string): Promise<string> {
  const token = `ullage_${newSecret()}`;
  const id = `token-${randomBytes(ID_BYTES).toString('hex')}`;
  await sql`
    with revoked as (
      update tokens set revoked_at = now() where name = ${name} and role = 'admin' and revoked_at is null)
    insert into tokens (id, name, role, hash, created_at) values (${id}, ${name}, 'admin', ${sha256Hex(token)}, now())`;
  return token;
}
