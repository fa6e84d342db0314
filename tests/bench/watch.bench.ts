/**
 * How good the watch is, in a world of its own (tests/bench/watch/): how often it calls while nothing is wrong, what it
 * finds, how soon, by which name and how sure, what it makes of blindness, and how charts on single gases fare that may
 * call as often.
 *
 * Whatever is tuned is tuned on one set of chambers (`--seeds tune`) and reported on another (`report`, the default).
 * Everything is simulated: figures say how good the watch is if vacuum behaves like this.
 *
 *   npm run bench -- watch                    60 quiet chamber-months, 15 instances; a quarter of an hour or two on two processors
 *   npm run bench -- watch --full             120 quiet chamber-months, 30 instances of everything
 *   … --months N --instances N --growths N    other sizes
 *   … --seeds tune|report|N                   first chamber
 *   … --only quiet|conditions|growth          a part; --processes N; --json file
 *
 * Interrupted, it reports on what is done.
 */
import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { parseArgs } from 'node:util';
import { GROWTHS, type Growth } from './watch/growth.ts';
import { runAll } from './watch/pool.ts';
import { printReport } from './watch/report.ts';
import type { Task } from './watch/work.ts';

const { values: options } = parseArgs({
  options: {
    full: { type: 'boolean', default: false },
    months: { type: 'string' },
    instances: { type: 'string' },
    growths: { type: 'string' },
    seeds: { type: 'string', default: 'report' },
    only: { type: 'string' },
    processes: { type: 'string' },
    json: { type: 'string' },
  },
});

const FIRST_SEEDS: Readonly<Record<string, number>> = { tune: 1000, report: 500_000 };
const first = FIRST_SEEDS[options.seeds] ?? Number(options.seeds);
if (!Number.isInteger(first))
  throw new RangeError(`--seeds takes tune, report or a whole number, not ${options.seeds}`);
const sized = (given: string | undefined, usual: number, full: number): number => {
  const count = given === undefined ? (options.full ? full : usual) : Number(given);
  if (!Number.isInteger(count) || count < 0) throw new RangeError(`a size is a whole number, not ${given}`);
  return count;
};
const months = sized(options.months, 60, 120);
const instances = sized(options.instances, 15, 30);
const growths = sized(options.growths, 10, 30);
const processes = sized(options.processes, availableParallelism(), availableParallelism());

const DAYS = 30;
/** Apart, so that no chamber is used twice. */
const CONDITIONS_FROM = 10_000;
const GROWTH_FROM = 20_000;
const many = <T>(count: number, make: (i: number) => T): T[] => Array.from({ length: count }, (_, i) => make(i));
const parts: Record<string, Task[]> = {
  quiet: many(months, (i) => ({ kind: 'quiet', seed: first + i, days: DAYS })),
  conditions: many(instances, (i) => ({ kind: 'conditions', seed: first + CONDITIONS_FROM + i })),
  growth: (Object.keys(GROWTHS) as Growth[]).flatMap((growth) =>
    many(growths, (i): Task => ({ kind: 'growth', growth, seed: first + GROWTH_FROM + i })),
  ),
};
const tasks = options.only ? (parts[options.only] ?? []) : Object.values(parts).flat();

const began = Date.now();
const stop = new AbortController();
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => stop.abort());
const results = await runAll(tasks, {
  processes,
  stop: stop.signal,
  told: (done) => {
    if (done % 10 !== 0 && done !== tasks.length) return;
    const minutes = ((Date.now() - began) / 60_000).toFixed(1);
    process.stderr.write(`${done} of ${tasks.length} pieces of work, ${minutes} min\n`);
  },
});
if (stop.signal.aborted) console.log(`Stopped: ${results.length} of ${tasks.length} pieces of work are done.`);
const report = printReport(results, { seeds: `${options.seeds} (from ${first})` });
if (options.json)
  writeFileSync(options.json, `${JSON.stringify({ seeds: options.seeds, first, ...report, results }, null, 1)}\n`);
