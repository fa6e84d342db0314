/**
 * Writes what the example's analysers send to standard output, a scan a line:
 * `node --import tsx server/demo/writeScans.ts --hours 6 --until 2031-01-08T06:00:00Z > scans.ndjson`
 * `--fleet` writes the fleet document instead.
 */
import { parseArgs } from 'node:util';
import { exampleFleet } from './fleet.ts';
import { HISTORY_MS, makeWorld } from './world.ts';

const { values } = parseArgs({
  options: {
    hours: { type: 'string', default: '72' },
    'full-hours': { type: 'string', default: '4' },
    until: { type: 'string', default: new Date().toISOString() },
    fleet: { type: 'boolean', default: false },
  },
});

const HOUR_MS = 3_600_000;
const untilMs = Date.parse(values.until);
const hours = Number(values.hours);
const fullHours = Number(values['full-hours']);
if (!Number.isFinite(untilMs)) throw new Error(`--until ${values.until}: not a time as in RFC 3339`);
if (!(hours > 0) || hours * HOUR_MS > HISTORY_MS)
  throw new Error(`--hours ${values.hours}: more than 0 and at most 72`);
if (!(fullHours >= 0)) throw new Error(`--full-hours ${values['full-hours']}: not a number of hours`);

if (values.fleet) process.stdout.write(`${JSON.stringify(exampleFleet(), null, 2)}\n`);
else {
  const world = makeWorld(Math.floor(untilMs / 60_000) * 60_000);
  const stretch = { afterMs: untilMs - hours * HOUR_MS, untilMs, fullFromMs: untilMs - fullHours * HOUR_MS };
  for (const scan of world.scans(stretch)) {
    if (!process.stdout.write(`${JSON.stringify(scan)}\n`)) {
      await new Promise((resume) => process.stdout.once('drain', resume));
    }
  }
}
