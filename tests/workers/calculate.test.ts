import { expect, test } from 'vitest';
import type { AnalysisScan } from '../../shared/analysis/types.ts';
import { documentCalibration } from '../../shared/db/calibrationInForce.ts';
import { calculate } from '../../workers/calculate.ts';
import type { ChamberContext } from '../../workers/chamberContext.ts';
import type { OutstandingScan } from '../../workers/outstanding.ts';
import { raised, type Script, scriptedScience } from '../support/scriptedScience.ts';

const aWork = (minute: number, stated: Partial<OutstandingScan> = {}): OutstandingScan => {
  const at = new Date(minute * 60_000);
  const analyser = stated.analyser ?? 'a';
  return {
    analyser,
    at,
    scanId: `m${minute}`,
    receivedAt: at,
    reportedState: null,
    before: null,
    scan: {
      analyser,
      id: stated.scanId ?? `m${minute}`,
      atMs: at.getTime(),
      seconds: 1,
      averages: 1,
      masses: [28],
      values: Float64Array.of(1e-9),
      unit: 'A',
      detector: null,
      totalPressurePa: null,
      temperatureC: null,
    },
    ...stated,
  };
};

const aContext = (stated: Partial<ChamberContext> = {}): ChamberContext => ({
  chamber: { id: 'c1', name: 'C1', kind: null, volumeLitres: null, pumpingSpeedLitresPerSecond: {}, gases: [] },
  calibrationsOf: new Map(
    ['a', 'b'].map((id) => {
      const calibration = documentCalibration({ id, version: 3, document: { id, chamber: 'c1' } });
      return [id, () => calibration];
    }),
  ),
  limits: [],
  untoldCloses: [],
  watches: new Map(),
  ...stated,
});

const run = (works: readonly OutstandingScan[], stated: Partial<ChamberContext> = {}, script: Script = {}) =>
  calculate(works, aContext(stated), scriptedScience(script));
const judgedTo = (minute: number, analyser = 'a') =>
  new Map([[analyser, { memory: { scans: [], told: [] }, instrument: null, judgedToMs: minute * 60_000, version: 7 }]]);

test('a scan that is not newer than the last one judged is analysed, and moves nothing', async () => {
  const seen: string[] = [];
  const { outcomes, analysers } = await run(
    [aWork(9), aWork(10, { scanId: 'twin' }), aWork(11)],
    { watches: judgedTo(10) },
    { watch: (scan) => void seen.push(scan.id) },
  );
  expect(outcomes.map(({ judged, analysis }) => [judged, analysis !== null])).toEqual([
    [false, true],
    [false, true],
    [true, true],
  ]);
  expect(seen).toEqual(['m11']);
  expect(analysers).toMatchObject([{ first: outcomes[2], newest: outcomes[2], watch: { readVersion: 7 } }]);
});

test('when all are late, the stored memory stands', async () => {
  const { analysers } = await run([aWork(9)], { watches: judgedTo(10) });
  expect(analysers).toMatchObject([{ newest: null, watch: null, baselines: [] }]);
});

test('the state is the reported one, else the last reported before, else base', async () => {
  const states: string[] = [];
  const { stateChanges } = await run(
    [
      aWork(1),
      aWork(2, { reportedState: 'bake' }),
      aWork(3),
      aWork(3, { analyser: 'b', before: { state: 'plasma', since: new Date(5) } }),
      aWork(4, { reportedState: 'base' }),
    ],
    {},
    { analyse: (scan: AnalysisScan) => void states.push(scan.state) },
  );
  expect(states).toEqual(['base', 'bake', 'bake', 'plasma', 'base']);
  expect(stateChanges.map(({ analyser, state, at }) => [analyser, state, at.getTime() / 60_000])).toEqual([
    ['a', 'base', 1],
    ['a', 'bake', 2],
    ['a', 'base', 4],
  ]);
});

test('a late scan takes the state that was in force at its time, and changes none', async () => {
  const { outcomes, stateChanges } = await run(
    [aWork(5, { before: { state: 'vented', since: new Date(1) } }), aWork(11)],
    {
      watches: judgedTo(10),
    },
  );
  expect(outcomes[0]).toMatchObject({ state: 'vented', stateSince: new Date(1) });
  expect(stateChanges).toMatchObject([{ state: 'base' }]);
});

test('a scan on which the analysis fails says so, and the others go on', async () => {
  const analyse = (scan: AnalysisScan) => {
    if (scan.id === 'm2') throw new RangeError('too steep');
  };
  const { outcomes } = await run([aWork(1), aWork(2), aWork(3)], {}, { analyse });
  expect(outcomes.map(({ judged }) => judged)).toEqual([true, false, true]);
  expect(outcomes[1]).toMatchObject({
    analysis: null,
    notes: [{ code: 'analysis-failed', text: 'The analysis of this scan failed: too steep' }],
  });
});

test('a scan on which the watch fails keeps its reading', async () => {
  const watch = (scan: AnalysisScan) => {
    if (scan.id === 'm2') throw new Error('lost the thread');
  };
  const { outcomes, analysers } = await run([aWork(1), aWork(2)], {}, { watch });
  expect(outcomes[1]).toMatchObject({ judged: false, notes: [{ code: 'watch-failed' }] });
  expect(outcomes[1]?.analysis).not.toBeNull();
  expect(analysers[0]?.watch?.judgedToMs).toBe(60_000);
});

test('what the watch notes of its judging stands in the reading', async () => {
  const { outcomes } = await run([aWork(1)], {}, { notes: () => [{ code: 'anew', text: 'Learned anew.' }] });
  expect(outcomes[0]?.notes).toEqual([{ code: 'anew', text: 'Learned anew.' }]);
});

test('a scan without its stored values, or of an analyser that nobody knows, has a reading that says so', async () => {
  const { outcomes } = await run([aWork(1, { scan: null }), aWork(2, { analyser: 'stranger' })]);
  expect(outcomes.map(({ notes }) => notes[0]?.text)).toEqual([
    'The stored scan is missing.',
    'The fleet does not know this analyser any more.',
  ]);
});

test('each watch that held a closed alert is told once, with its first scan', async () => {
  const heard: string[] = [];
  const { told } = await run(
    [aWork(1), aWork(2), aWork(3, { analyser: 'b' })],
    { untoldCloses: [{ alert: 'x', signature: 'water', heldBy: ['a'] }] },
    {
      events: (scan, closes) => {
        heard.push(`${scan.id}:${closes.join()}`);
        return [];
      },
    },
  );
  expect(heard).toEqual(['m1:water', 'm2:', 'm3:']);
  expect(told).toEqual([{ alert: 'x', analyser: 'a' }]);
});

test('events come in the order of the scans, with who said them; a change of state before what its scan raised', async () => {
  const { events } = await run(
    [aWork(1), aWork(2, { analyser: 'b' }), aWork(3)],
    {},
    {
      events: (scan) => [raised(scan.atMs, 'water')],
    },
  );
  expect(events.map(({ analyser, event }) => [analyser, event.kind, event.atMs / 60_000])).toEqual([
    ['a', 'state', 1],
    ['a', 'raised', 1],
    ['b', 'state', 2],
    ['b', 'raised', 2],
    ['a', 'raised', 3],
  ]);
});
