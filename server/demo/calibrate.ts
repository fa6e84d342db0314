/** What an engineer of the example does once: scans that were marked in its story become a calibration in force. */
import { setTimeout as pause } from 'node:timers/promises';
import type { CalibrationEntry, NewTask, Task } from '../../shared/contract/calibration.ts';
import type { Server } from './http.ts';
import { ENGINEER, type Person } from './people.ts';
import type { Story } from './story.ts';

const LOOK_EVERY_MS = 1000;
/** The workers have three days of history to work through first. */
const PATIENCE_MS = 180_000;

export interface Bench {
  readonly server: Server;
  /** Looks; what people did is done with theirs. */
  readonly adminToken: string;
  readonly tokenOf: (person: Person) => Promise<string>;
  /** The moment around which the stories are told. */
  readonly anchorMs: number;
  readonly stories: readonly Story[];
  readonly now: () => number;
  readonly signal: AbortSignal;
  readonly log: (line: string) => void;
}

const iso = (ms: number): string => new Date(ms).toISOString();

function askedBy({ valveClosed, pureGas, title }: Story): NewTask | null {
  if (valveClosed) {
    const span = { from: iso(valveClosed.fromMs), to: iso(valveClosed.toMs) };
    return { kind: 'background', ...span, source: 'closed valve', note: title };
  }
  if (pureGas) {
    const span = { from: iso(pureGas.fromMs), to: iso(pureGas.toMs) };
    return { kind: 'pattern', gas: pureGas.gas, ...span, amountFromGauge: true, note: title };
  }
  return null;
}

export async function calibrateExample(bench: Bench): Promise<void> {
  const { server, adminToken, tokenOf } = bench;
  for (const story of bench.stories) {
    const asked = askedBy(story);
    if (!asked || !story.analyser) continue;
    const path = `/api/v1/analysers/${story.analyser}`;
    const { entries } = await server.ask<{ entries: readonly CalibrationEntry[] }>({
      method: 'GET',
      path: `${path}/calibrations`,
      token: adminToken,
    });
    // A restart finds what an earlier one has done, and what people have decided since.
    if (entries.length > 0) continue;
    const token = await tokenOf(ENGINEER);
    const task = await server.ask<Task>({ method: 'POST', path: `${path}/tasks`, token, body: asked });
    const done = await finished(bench, path, task);
    if (!done.calibration) {
      bench.log(`${story.title}: ${done.problem ?? 'not worked out in time; it waits for a person'}`);
      continue;
    }
    const body = { validFrom: iso(bench.now()), note: 'Looked at and put in force' };
    await server.ask({ method: 'POST', path: `${path}/calibrations/${done.calibration}/enforce`, token, body });
  }
}

async function finished({ server, adminToken: token, now, signal }: Bench, path: string, task: Task): Promise<Task> {
  const untilMs = now() + PATIENCE_MS;
  let latest = task;
  while (latest.state === 'waiting' && now() < untilMs) {
    await pause(LOOK_EVERY_MS, undefined, { signal });
    latest = await server.ask<Task>({ method: 'GET', path: `${path}/tasks/${task.id}`, token });
  }
  return latest;
}
