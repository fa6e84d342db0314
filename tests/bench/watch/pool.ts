/** Pieces of work on as many processes as the machine has processors. */
import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Result, Task } from './work.ts';

const WORKER = fileURLToPath(new URL('./worker.ts', import.meta.url));

export interface Pool {
  readonly processes: number;
  /** After each piece. */
  readonly told: (done: number) => void;
  /** Ends the work: what is done by then counts. */
  readonly stop: AbortSignal;
}

/** @returns in the order of the tasks, without those that were not done */
export async function runAll(tasks: readonly Task[], { processes, told, stop }: Pool): Promise<Result[]> {
  const results: Result[] = [];
  let next = 0;
  let done = 0;
  const serve = (child: ChildProcess) =>
    new Promise<void>((resolve, reject) => {
      let at = -1;
      const give = () => {
        at = next++;
        if (at < tasks.length) child.send(tasks[at]!);
        else child.kill();
      };
      child.on('message', (result: Result) => {
        results[at] = result;
        told(++done);
        give();
      });
      child.on('error', reject);
      child.on('exit', (code) => {
        if (at >= tasks.length || stop.aborted) resolve();
        else reject(new Error(`a process of the bench ended with ${code} in ${JSON.stringify(tasks[at])}`));
      });
      give();
    });
  const children = Array.from({ length: Math.min(processes, tasks.length) }, () =>
    fork(WORKER, { execArgv: ['--import', 'tsx'] }),
  );
  stop.addEventListener('abort', () => {
    for (const child of children) child.kill();
  });
  try {
    await Promise.all(children.map(serve));
  } finally {
    for (const child of children) child.kill();
  }
  return results.filter((result) => result !== undefined);
}
