/** Keeps child processes running: starts them again when they die, a little later each time, and stops them together. */
import { type ChildProcess, spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Log } from '../../shared/log.ts';

export interface ChildPlan {
  name: string;
  /** Path of the program, from the folder of package.json. */
  program: string;
  environment: NodeJS.ProcessEnv;
  /** Exit statuses after which it is left alone: it has said that another try would end the same way. */
  finalStatuses?: readonly number[];
}

export interface Supervisor {
  /** Ends all children: asks first, then forces what is left after `graceMs`. */
  stop: (graceMs: number) => Promise<void>;
  /** How often a child of this name has died. */
  deaths: (name: string) => number;
}

const FIRST_PAUSE_MS = 500;
const LONGEST_PAUSE_MS = 30_000;
/** After running this long its next death counts as the first. */
const STEADY_MS = 60_000;

const LEASH = fileURLToPath(new URL('./leash.mjs', import.meta.url));

export function supervise(plans: readonly ChildPlan[], o: { root: string; log: Log; now: () => number }): Supervisor {
  const living = new Set<ChildProcess>();
  const deaths = new Map<string, number>();
  const pauses = new Set<NodeJS.Timeout>();
  let stopping = false;

  function start(plan: ChildPlan, pauseMs: number): void {
    const startedAt = o.now();
    const child = spawn(process.execPath, ['--import', 'tsx', '--import', LEASH, plan.program], {
      cwd: o.root,
      env: plan.environment,
      // Detached: Ctrl-C in the terminal reaches only the supervisor, which ends them in order.
      detached: true,
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    });
    living.add(child);
    child.once('error', (error) => o.log.error({ child: plan.name, error }, 'A process could not be started'));
    child.once('close', (status, signal) => {
      living.delete(child);
      if (stopping) return;
      if (status !== null && plan.finalStatuses?.includes(status)) return;
      deaths.set(plan.name, (deaths.get(plan.name) ?? 0) + 1);
      const pause = o.now() - startedAt > STEADY_MS ? FIRST_PAUSE_MS : pauseMs;
      o.log.error({ child: plan.name, status, signal, restartInMs: pause }, 'A process ended and is started again');
      const timer = setTimeout(() => {
        pauses.delete(timer);
        start(plan, Math.min(2 * pause, LONGEST_PAUSE_MS));
      }, pause);
      pauses.add(timer);
    });
  }
  for (const plan of plans) start(plan, FIRST_PAUSE_MS);

  return {
    deaths: (name) => deaths.get(name) ?? 0,
    stop: async (graceMs) => {
      stopping = true;
      for (const timer of pauses) clearTimeout(timer);
      const gone = Promise.all([...living].map((child) => new Promise((done) => child.once('close', done))));
      for (const child of living) child.kill('SIGTERM');
      const force = setTimeout(() => {
        for (const child of living) child.kill('SIGKILL');
      }, graceMs);
      await gone;
      clearTimeout(force);
    },
  };
}
