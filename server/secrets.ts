/** Random secrets and their hashes. A secret of 256 bits needs no slow hash: nobody can try them all. */
import { createHash, randomBytes } from 'node:crypto';

const SECRET_BYTES = 32;
const ID_BYTES = 9;

export const sha256Hex = (text: string): string => createHash('sha256').update(text).digest('hex');
export const newSecret = (): string => randomBytes(SECRET_BYTES).toString('base64url');
/** The prefix lets scanners of repositories and logs recognise a token that has leaked. */
export const newToken = (): string => `ullage_${newSecret()}`;
export const newId = (kind: string): string => `${kind}-${randomBytes(ID_BYTES).toString('hex')}`;
