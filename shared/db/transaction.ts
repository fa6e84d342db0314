/**
 * Transactions that die with their connection.
 *
 * When a backend dies between two queries of a transaction, postgres.js 3.4.9 sends the rest on a new connection, or
 * inside somebody else's transaction: rows of a transaction that "rolled back" stay, and its ROLLBACK or COMMIT hits
 * a stranger. Here the transaction hears of the death in the same tick and from then on sends nothing: its callback
 * stays pending for ever (nothing holds it, so it is collected) while the caller's promise rejects.
 */
import type { Sql, TransactionSql } from 'postgres';
import { DeadlineError, watched, watchedClient } from './deadline.ts';

/** The transaction's own client: no savepoints, whose ROLLBACK TO could not be guarded. */
export type Transaction = Omit<TransactionSql, 'savepoint' | 'prepare'> & Sql;

/** The driver's connection object, as its undocumented `onexecute` option hands it out. */
interface DriverConnection {
  onclose: ((reason: unknown) => void) | null;
}

const NEVER = (): Promise<never> => new Promise(() => {});

/** True for an error of the connection, false for an answer of the server after which the session lives on. */
function endsTheSession(reason: unknown): boolean {
  const { name, severity } = reason as { name?: string; severity?: string };
  if (name === 'DeadlineError') return false;
  return name !== 'PostgresError' || severity === 'FATAL' || severity === 'PANIC';
}

/** `begin` of a raw client, guarded. @returns a function that runs its callback in one transaction */
export function guardedBegin(client: Sql, deadlineMs: number) {
  return async function transaction<T>(...args: [string, Body<T>] | [Body<T>]): Promise<T> {
    const body = args.at(-1) as Body<T>;
    const options = args.length === 2 ? (args[0] as string) : '';
    let late: NodeJS.Timeout | undefined;
    let gaveUp = false;
    const noConnection = new Promise<never>((_resolve, reject) => {
      late = setTimeout(() => {
        gaveUp = true;
        reject(new DeadlineError(deadlineMs));
      }, deadlineMs);
    });
    // The driver should reject when its connection dies, and should end what the body has ended. Rarely it does neither.
    let giveUp: (reason: unknown) => void = () => {};
    const lost = new Promise<never>((_resolve, reject) => {
      giveUp = reject;
    });
    lost.catch(() => {
      // Whoever waits hears it through the race below; a transaction that has already ended needs no telling.
    });
    const begun = client.begin(options, async (inner) => {
      clearTimeout(late);
      if (gaveUp) throw new DeadlineError(deadlineMs);
      return await runGuarded(inner, body, { deadlineMs, lost: giveUp }).finally(() => {
        late = setTimeout(() => giveUp(new DeadlineError(deadlineMs)), deadlineMs);
      });
    }) as Promise<T>;
    return await Promise.race([begun, noConnection, lost]).finally(() => clearTimeout(late));
  };
}

type Body<T> = (tx: Transaction) => Promise<T>;

interface Guard {
  readonly deadlineMs: number;
  /** Told when the connection has died: whatever the driver does, the caller hears of it. */
  readonly lost: (reason: unknown) => void;
}

async function runGuarded<T>(inner: TransactionSql, body: Body<T>, guard: Guard): Promise<T> {
  const { deadlineMs } = guard;
  let dead = false;
  const die = (reason: unknown): void => {
    dead = true;
    guard.lost(reason);
  };
  const watch = {
    deadlineMs,
    maySend: () => !dead,
    failed: (reason: unknown) => {
      if (endsTheSession(reason)) die(reason);
    },
  };
  const refuse = (): never => {
    throw new Error('A guarded transaction has no savepoints: begin another transaction');
  };
  const tx = watchedClient(inner as unknown as Sql, watch, { savepoint: refuse, begin: refuse, prepare: refuse });
  hearTheEnd(inner, watch, die);
  try {
    const value = await body(tx as Transaction);
    return dead ? await NEVER() : value;
  } catch (error) {
    // To throw now would make the driver send ROLLBACK on whatever connection it has by then.
    if (dead) await NEVER();
    throw error;
  }
}

/**
 * Learns of the connection's death as it happens. Only a query of the transaction itself reveals which connection
 * that is, so an empty one is sent along with the first real one (pipelined: no extra wait for its answer).
 */
function hearTheEnd(
  inner: TransactionSql,
  watch: Parameters<typeof watched>[1],
  died: (reason: unknown) => void,
): void {
  const onexecute = (connection: DriverConnection): true => {
    const told = connection.onclose;
    connection.onclose = (reason) => {
      died(reason);
      told?.(reason);
    };
    return true;
  };
  const first = inner.unsafe('select 1', [], { simple: true, onexecute } as object);
  watched(first, watch)
    .execute()
    .catch(() => {
      // The transaction's own queries report the same failure.
    });
}
