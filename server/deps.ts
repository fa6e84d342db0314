/** What the server is given: nothing opens a connection at import, and tests hand in their own. */
import type { TypeBoxTypeProvider } from '@fastify/type-provider-typebox';
import type {
  FastifyBaseLogger,
  FastifyInstance,
  RawReplyDefaultExpression,
  RawRequestDefaultExpression,
  RawServerDefault,
} from 'fastify';
import type { Database } from '../shared/db/connect.ts';
import type { Log } from '../shared/log.ts';

export interface Deps {
  db: Database;
  /** Tells the workers that chambers have scans to analyse. May be lost; a sweep makes up for it. */
  nudge: (chambers: readonly string[]) => Promise<void>;
  /** Answers when the queue does, rejects when it is away. */
  queueAnswers: () => Promise<void>;
  /** Nudges that wait; rejects when the queue is away. Left out: nobody counts them. */
  queueDepth?: () => Promise<number>;
  /** Where Ullage keeps what is its own on this machine. */
  dataDir?: string;
  now: () => Date;
  log: Log;
  settings: {
    site: string;
    adminToken: string | null;
  };
  version: string;
  /** Folder of the built page; null: none is served. */
  webRoot: string | null;
  /** Accepted and not yet analysed scans beyond which new ones are put off. */
  mostOutstanding?: number;
}

export type App = FastifyInstance<
  RawServerDefault,
  RawRequestDefaultExpression,
  RawReplyDefaultExpression,
  FastifyBaseLogger,
  TypeBoxTypeProvider
>;
