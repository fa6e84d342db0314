/** One writer per chamber at a time: batches and the sweep's moves wait for each other here. */
import type { Transaction } from '../shared/db/connect.ts';
import { CHAMBER_LOCKS } from '../shared/db/locks.ts';

/**
 * Holds the chamber until the end of the transaction. Two chambers with one hash only wait for each other.
 * A statement of its own, so that what is read after it sees what the last holder committed.
 */
export const lockChamber = (tx: Transaction, chamber: string) =>
  tx`select pg_advisory_xact_lock(${CHAMBER_LOCKS}, hashtext(${chamber}))`;
