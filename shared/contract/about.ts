import { Instant, nullable, object, type Static, Type, words } from './schema.ts';

const seconds = (description: string) => nullable(Type.Number({ description }));

/** Versions, and how far behind the answers are. For everyone who reads. */
export const About = object({
  version: Type.String(),
  catalogue: object({ version: Type.String(), gases: Type.Integer() }),
  migration: object({
    applied: Type.Integer({ description: 'steps that the database has taken' }),
    known: Type.Integer({ description: 'steps that this version of Ullage knows' }),
    newest: nullable(Type.String({ description: 'name of the newest step taken' })),
  }),
  waiting: object({
    scans: Type.Integer({ description: 'accepted and not yet analysed' }),
    oldestSeconds: seconds('since the oldest of them was accepted; null: none waits'),
    tasks: Type.Integer({ description: 'work asked for by people and not yet done' }),
    nudges: nullable(Type.Integer({ description: 'waiting in the queue; null: the queue does not answer' })),
  }),
  startedAt: Instant,
});
export type About = Static<typeof About>;

export const BACKUP_KINDS = ['database', 'data folder'] as const;

/** A backup that a person or a script has made: Ullage does not make them and cannot know of them otherwise. */
export const NewBackup = object({
  at: Instant,
  kind: words(BACKUP_KINDS),
  note: Type.Optional(Type.String({ maxLength: 500 })),
});
export const Backup = object({
  at: Instant,
  kind: words(BACKUP_KINDS),
  note: Type.String(),
  by: Type.String(),
  reportedAt: Instant,
});
export type Backup = Static<typeof Backup>;

/** What keeps it running. For engineers. */
export const Operation = object({
  database: object({ version: Type.String(), bytes: Type.Integer() }),
  disk: nullable(
    object({
      holds: words(['the database', 'the data folder'] as const),
      freeBytes: Type.Integer(),
      bytes: Type.Integer(),
    }),
  ),
  lastBackup: nullable(Backup),
  processes: Type.Array(
    object({
      name: Type.String(),
      connections: Type.Integer({ description: 'to the database' }),
      since: Instant,
    }),
  ),
  arrival: nullable(
    object(
      {
        analysers: Type.Integer({ description: 'heard in the last hour' }),
        medianSeconds: Type.Number(),
        earliest: object({ analyser: Type.String(), seconds: Type.Number() }),
        latest: object({ analyser: Type.String(), seconds: Type.Number() }),
      },
      'From the start of the newest scan, by the clock of its gateway, to its arrival, by ours. Below zero: that clock is ahead by at least as much',
    ),
  ),
  eventStreams: Type.Integer({ description: 'open to this server' }),
});
export type Operation = Static<typeof Operation>;
