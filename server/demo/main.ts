/**
 * The example: an invented fleet that speaks to the product over HTTP like any gateway, with three days of history and
 * a live feed. Started by `npm run demo`; by hand: `node --import tsx server/demo/main.ts` with the two settings below.
 */
import { calibrateExample } from './calibrate.ts';
import { closeCases } from './closeCases.ts';
import { runFeed } from './feed.ts';
import { openServer, RefusedError } from './http.ts';
import { callStaff } from './people.ts';
import { OtherFleetError, setUpExample } from './setUp.ts';
import { writeShiftBook } from './shiftBook.ts';
import { makeWorld } from './world.ts';

/** Exit status that says: starting again would end the same way. */
const NOT_AGAIN = 78;
/** Answers that a new process would get as well; a revoked token (401) is not among them, a new start makes a new one. */
const FINAL_STATUSES: readonly number[] = [400, 403, 404, 422];

const url = process.env.ULLAGE_DEMO_URL ?? 'http://127.0.0.1:4170';
const adminToken = process.env.ULLAGE_DEMO_ADMIN_TOKEN ?? process.env.ULLAGE_ADMIN_TOKEN;
const log = (line: string): void => void process.stdout.write(`example: ${line}\n`);

const stopping = new AbortController();
for (const name of ['SIGTERM', 'SIGINT'] as const) process.once(name, () => stopping.abort());

const isFinal = (error: unknown): boolean =>
  error instanceof OtherFleetError || (error instanceof RefusedError && FINAL_STATUSES.includes(error.status));

async function run(token: string): Promise<void> {
  const { signal } = stopping;
  const server = openServer({ url, signal, log });
  const position = await setUpExample({ server, adminToken: token, nowMs: Date.now() });
  log(`the fleet is in; its story is told from ${new Date(position.anchorMs).toISOString()}`);
  const world = makeWorld(position.anchorMs);
  const whenLive = async () => {
    const staff = await callStaff({ server, adminToken: token });
    const { anchorMs, stories } = world;
    const bench = { server, adminToken: token, tokenOf: staff.tokenOf, anchorMs, stories, now: Date.now, signal, log };
    try {
      await closeCases(bench);
      await calibrateExample(bench);
      await writeShiftBook(bench);
    } finally {
      await staff.leave();
    }
  };
  await runFeed({ server, world, position, now: Date.now, signal, log, whenLive });
}

if (adminToken) {
  try {
    await run(adminToken);
  } catch (error) {
    if (!stopping.signal.aborted) {
      log(error instanceof Error ? error.message : String(error));
      process.exitCode = isFinal(error) ? NOT_AGAIN : 1;
    }
  }
} else {
  log('ULLAGE_DEMO_ADMIN_TOKEN is not set: it must hold a token with the role admin');
  process.exitCode = NOT_AGAIN;
}
