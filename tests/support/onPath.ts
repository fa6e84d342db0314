import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/** The program of this name on PATH, or null. */
export function onPath(program: string): string | null {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    const file = join(folder, program);
    try {
      accessSync(file, constants.X_OK);
      return file;
    } catch {
      // Not here.
    }
  }
  return null;
}
