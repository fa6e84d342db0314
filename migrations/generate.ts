/**
 * Writes the next migration: what shared/db/tables.ts asks for beyond the ones that are there. Those that have been
 * committed are never changed, since databases out there have run them; one that is not committed yet may be deleted
 * with its entries in meta/ and made anew. What declarations cannot say (partitions, storage) is written into the SQL
 * by hand, under what was generated.
 */
import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join, relative } from 'node:path';

const root = join(import.meta.dirname, '..');
const out = process.env.MIGRATIONS_OUT ?? join(root, 'migrations');
const [name = 'tables'] = process.argv.slice(2);

const written = (): number => readdirSync(out).filter((file) => file.endsWith('.sql')).length;
const before = written();
const said = execFileSync(
  process.execPath,
  [
    join(root, 'node_modules/drizzle-kit/bin.cjs'),
    'generate',
    '--config=migrations/drizzle.config.ts',
    `--name=${name}`,
  ],
  // The tool reads the folder as one below the place where it is started.
  { cwd: root, encoding: 'utf8', env: { ...process.env, MIGRATIONS_OUT: relative(root, out) } },
);
// It ends well even when it has failed.
if (written() === before && !said.includes('No schema changes')) throw new Error(`drizzle-kit wrote nothing:\n${said}`);
