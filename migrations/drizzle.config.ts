import { defineConfig } from 'drizzle-kit';

/** Paths count from the folder of package.json, where the tool is started. */
export default defineConfig({
  dialect: 'postgresql',
  schema: './shared/db/tables.ts',
  out: process.env.MIGRATIONS_OUT ?? './migrations',
});
