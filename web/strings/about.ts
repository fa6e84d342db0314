import { catalogue } from './catalogue.ts';
import { many } from './plural.ts';

const SCAN = { one: 'scan', other: 'scans' };

/** What is installed, how far behind it is, and what keeps it running. */
export const words = catalogue({
  title: 'About',
  facts: 'The facts about this installation',
  unknownLag: 'Whether the answers are up to date is not known.',
  upToDate: 'Every scan that came in has been analysed: the answers are up to date.',
  behind: (scans: number) =>
    `${many(scans, { one: 'scan waits', other: 'scans wait' })} to be analysed; the answers are that far behind.`,
  behindSince: (scans: number, age: string) =>
    `${many(scans, { one: 'scan waits', other: 'scans wait' })} to be analysed, the oldest for ${age}; the answers are that far behind.`,
  installation: 'This installation',
  versionsMargin: 'versions, lag',
  catalogue: 'Catalogue of gases',
  catalogueIs: (version: string, gases: number) => `${version}, ${many(gases, { one: 'gas', other: 'gases' })}`,
  migration: 'Database tables',
  migrationIs: (newest: string, applied: number) => `step ${applied}, ${newest}`,
  migrationNone: 'no step taken',
  migrationBehind: (newest: string, applied: number, known: number) =>
    `step ${applied} of ${known}, ${newest}: this version of Ullage needs the rest; start it again`,
  migrationAhead: (applied: number, known: number) =>
    `step ${applied}, newer than this version of Ullage, which knows ${known}: a newer one has run here`,
  waiting: 'Waiting to be analysed',
  waitingIs: (scans: number) => many(scans, SCAN),
  waitingOldest: (scans: number, age: string) => `${many(scans, SCAN)}, the oldest for ${age}`,
  tasks: 'Asked for by people, not done yet',
  tasksAre: (n: number) => many(n, { one: 'piece of work', other: 'pieces of work' }),
  queue: 'Queue',
  queueHolds: (n: number) => many(n, { one: 'nudge waits', other: 'nudges wait' }),
  queueAway: 'does not answer; the sweep finds the work without it',
  newest: 'Newest scan',
  running: 'This server has run for',
  chambers: 'Chambers',
  unknown: 'not known: the answer did not come',
  site: 'Site',
  siteIs: (name: string, zone: string) => `${name}, ${zone}`,
  siteIsExample: (name: string, zone: string) => `${name}, ${zone}, example data`,

  operation: 'What keeps it running',
  operationMargin: 'disk, backup, processes, clocks',
  operationFacts: 'The facts about what keeps it running',
  forEngineers: 'Disk, backups, processes and clocks are shown to engineers and admins.',
  database: 'Database',
  databaseIs: (version: string, size: string) => `PostgreSQL ${version}, ${size}`,
  disk: 'Disk',
  diskOfDatabase: (free: string, all: string) => `${free} free of ${all}, where the database lies`,
  diskOfFolder: (free: string, all: string) =>
    `${free} free of ${all}, where the data folder lies; the database lies elsewhere, its disk cannot be seen from here`,
  diskUnknown: 'not known: the data folder cannot be read',
  backup: 'Last backup',
  backupNone: 'no backup has been reported',
  backupHow:
    'Ullage makes no backups and knows only of those that are reported to it: POST /api/v1/backups with at, kind and note, as the README shows.',
  backupIs: (kind: string, by: string) => `<age/>: ${kind}, reported by ${by}`,
  backupNoted: (kind: string, by: string, note: string) => `<age/>: ${kind}, reported by ${by}: ${note}`,
  kinds: { database: 'the database', 'data folder': 'the data folder' },
  processes: 'Processes',
  processIs: (connections: number) =>
    `${many(connections, { one: 'connection', other: 'connections' })} to the database, the oldest for <age/>`,
  process: {
    'ullage-start': 'start',
    'ullage-server': 'server',
    'ullage-workers': 'workers',
    'ullage-queue': 'queue',
  },
  noWorkers: 'no worker is connected: nothing is analysed',
  clocks: 'From a scan to its arrival',
  clocksAre: (median: string, analysers: number) =>
    `${median} in the middle of ${many(analysers, { one: 'analyser', other: 'analysers' })}`,
  clocksSpread: (earliest: string, first: string, latest: string, last: string) =>
    `from ${earliest} (${first}) to ${latest} (${last})`,
  clocksAhead: 'A time below zero: the clock of that gateway is ahead of ours by at least as much.',
  clocksUnknown: 'not known: no scan has come within an hour',
  streams: 'Event streams',
  streamsAre: (n: number) => `${many(n, { one: 'browser listens', other: 'browsers listen' })} to this server`,
  seconds: (text: string) => `${text}\u00a0s`,
  minus: (text: string) => `\u2212${text}`,

  neverSwitches:
    'Ullage watches and never switches: it writes to no tool. What it says does not replace gas detection, interlocks, the site’s procedures or licensed practice. For programs: <api>the API</api>, <gases>the catalogue with its sources</gases>. Type: Fira Sans and STIX Two Text, both under the <fira>SIL Open</fira> <stix>Font Licence</stix>.',
});
