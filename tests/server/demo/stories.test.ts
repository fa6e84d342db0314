/**
 * What the example shows is what its stories say and nothing else, whenever it is started: the scans of the whole fleet
 * through the real analysis and the real watch. What happens is known by construction.
 */
import { describe, expect, it } from 'vitest';
import { storiesFrom } from '../../../server/demo/stories.ts';
import { runExample } from './exampleRun.ts';

/** One night and one afternoon: cycles, the hall's temperature and all chance differ. */
const ANCHORS = ['2031-01-08T02:47:00Z', '2031-05-21T15:11:00Z'];

/** Six thousand scans each, one in a quarter of an hour: minutes on a busy machine. Nothing is measured by it. */
const LONGEST_MS = 900_000;

describe.each(ANCHORS)('told from %s', (anchor) => {
  const anchorMs = Date.parse(anchor);
  const stories = storiesFrom(anchorMs);

  it(
    'raises one alert for each story that needs a person, and no other',
    async () => {
      const runs = await runExample({ anchorMs, untilMs: anchorMs, fullHours: 0 });
      const raised = runs.flatMap(({ chamber, alerts, silent }) => [
        ...alerts.map(({ signature }) => `${chamber} ${signature}`),
        ...silent.map(() => `${chamber} silent`),
      ]);
      const expected = stories.flatMap(({ chamber, expected }) => (expected ? [`${chamber} ${expected}`] : []));
      expect(raised.sort()).toEqual(expected.sort());
      const over = runs.flatMap(({ chamber, alerts }) => alerts.filter(({ life }) => !life.active).map(() => chamber));
      expect(over.sort()).toEqual(
        stories
          .filter(({ closed }) => closed)
          .map(({ chamber }) => chamber)
          .sort(),
      );
    },
    LONGEST_MS,
  );
});
