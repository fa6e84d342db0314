/**
 * Writes the first migration from shared/db/tables.ts: drizzle-kit lists the columns, this adds the partitioning and
 * what else the declarations cannot say (physical.sql). Until the first release there is one migration, made anew.
 */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const PARTITIONED = ['scans', 'readings'];

const out = process.env.MIGRATIONS_OUT ?? './migrations';
const here = import.meta.dirname;
const root = join(here, '..');

const written = (): string[] => readdirSync(out).filter((file) => /^\d{4}_.*\.sql$/.test(file));

for (const file of written()) rmSync(join(out, file));
rmSync(join(out, 'meta'), { recursive: true, force: true });
execFileSync(
  process.execPath,
  [
    join(root, 'node_modules/drizzle-kit/bin.cjs'),
    'generate',
    '--config=migrations/drizzle.config.ts',
    '--name=tables',
  ],
  { cwd: root, stdio: ['ignore', 'ignore', 'inherit'] },
);

const [file] = written();
if (file === undefined) throw new Error('drizzle-kit wrote no migration');
const generated = readFileSync(join(out, file), 'utf8');
const partitioned = PARTITIONED.reduce((text, table) => {
  const statement = new RegExp(`(CREATE TABLE "${table}" \\([^;]*\\n\\));`);
  if (!statement.test(text)) throw new Error(`The migration does not create ${table}`);
  return text.replace(statement, '$1 PARTITION BY RANGE ("at");');
}, generated);
const physical = readFileSync(join(here, 'physical.sql'), 'utf8');
writeFileSync(join(out, file), `${partitioned.trimEnd()}\n--> statement-breakpoint\n${physical}`);
