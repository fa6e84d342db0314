import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { insertExample, readExample, withdrawExample } from '../../shared/db/examples.ts';
import { insertTask } from '../../shared/db/tasks.ts';
import type { SiteExample, WatchContext } from '../../shared/watch/types.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience, type Science } from '../../workers/science.ts';
import { workToTheEnd } from '../support/askedTasks.ts';
import { type Script, scriptedScience } from '../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aScan, minutesAfter, storeFleet } from '../support/storedFleet.ts';

let fresh: FreshDatabase;
let database: Database;

beforeAll(async () => {
  fresh = await freshDatabase();
  database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
});
afterAll(async () => {
  await database.close();
  await fresh.drop();
});
beforeEach(async () => {
  await database.sql`truncate areas, chambers, analysers, scan_keys, scans, outstanding_scans, readings, latest,
    watch_memory, chamber_states, baselines, tasks, signature_examples`;
  await storeFleet(database.sql, {
    chambers: [{ id: 'c1', kind: 'etch' }, { id: 'c2', kind: 'etch' }, { id: 'c3', kind: 'coat' }, { id: 'c4' }],
    analysers: ['c1', 'c2', 'c3', 'c4'].map((id) => ({
      id: `${id}-a`,
      chamber: id,
      sensitivityAmperesPerPascal: 7.5e-7,
    })),
  });
});

const shopOf = (script: Script = {}, science: Partial<Science> = {}): Workshop =>
  openWorkshop({ database, science: { ...scriptedScience(script), ...science }, log: quiet, stopping: () => false });

/** A hydrogen peak that has grown. Invented. */
const HYDROGEN = { masses: [1, 2, 18, 28], changePa: [1e-9, 4e-8, 0, 0], sigmaPa: [1e-10, 4e-10, 3e-10, 3e-10] };

const keep = (id: string, chamber: string, kind: string | null, stated: Partial<SiteExample> = {}) =>
  database.transaction((tx) =>
    insertExample(tx, {
      id,
      chamber,
      alert: `alert-${id}`,
      chamberKind: kind,
      claimed: 'water',
      verified: 'hydrogen',
      example: {
        id,
        signature: 'hydrogen',
        gases: ['H2'],
        ...HYDROGEN,
        gaugeChangePa: null,
        usualPa: [1e-9, 1e-7, 2e-7, 1e-7],
        ...stated,
      } as SiteExample,
      note: '',
      setAt: minutesAfter(id.length),
      setBy: 'ann',
    }),
  );
const check = async (id: string, chamber = 'c1') => {
  await database.transaction((tx) =>
    insertTask(tx, {
      chamber,
      analyser: `${chamber}-a`,
      id: `check-${id}`,
      request: { kind: 'example', example: id },
      askedAt: minutesAfter(0),
      askedBy: 'ann',
    }),
  );
};

describe('the check', () => {
  test('names every case of the kind by the others, not those of another kind or those withdrawn', async () => {
    await keep('e1', 'c1', 'etch');
    await keep('e2', 'c2', 'etch');
    await keep('e3', 'c3', 'coat');
    await keep('e4', 'c2', 'etch');
    await database.transaction((tx) => withdrawExample(tx, { id: 'e4', at: minutesAfter(1), by: 'ann' }));
    const asked: [string, string[], string][] = [];
    const nameExample: Science['nameExample'] = ({ id, signature }, { chamber, others = [] }) => {
      asked.push([id, others.map((one) => one.id), chamber.id]);
      return { right: true, rightInTwo: true, names: [{ signature, gases: [], odds: 0.9 }], sureness: 'likely' };
    };
    await check('e1');
    await workToTheEnd(shopOf({ nameExample }));
    expect(asked).toEqual([
      ['e1', ['e2'], 'c1'],
      ['e2', ['e1'], 'c2'],
    ]);
    expect((await readExample(database.sql, 'e2'))?.check).toMatchObject({
      named: 'hydrogen',
      right: true,
      sureness: 'likely',
    });
    expect((await readExample(database.sql, 'e3'))?.check).toBeNull();
    expect((await readExample(database.sql, 'e4'))?.check).toBeNull();
  });

  test('one that the watch cannot use stays without an answer, and the others are checked', async () => {
    await keep('e1', 'c1', 'etch', { sigmaPa: [0, 0, 0, 0] });
    await keep('e2', 'c2', 'etch');
    await check('e1');
    await workToTheEnd(openWorkshop({ database, science: makeScience(), log: quiet, stopping: () => false }));
    expect((await readExample(database.sql, 'e1'))?.check).toBeNull();
    expect((await readExample(database.sql, 'e2'))?.check).toMatchObject({ named: 'hydrogen', right: true });
    expect(await database.sql`select state from tasks`).toEqual([{ state: 'done' }]);
  });
});

describe('the watch is given', () => {
  const given = new Map<string, readonly string[]>();
  const listening = (): Workshop => {
    const { watchScan } = scriptedScience();
    return shopOf(
      {},
      {
        watchScan: (memory, context: WatchContext, input) => {
          given.set(
            context.chamber.id,
            (context.examples ?? []).map(({ id }) => id),
          );
          return watchScan(memory, context, input);
        },
      },
    );
  };
  const scanAll = async (shop: Workshop, minute: number) => {
    for (const chamber of ['c1', 'c2', 'c3', 'c4']) {
      const scans = [aScan(minute, { analyser: `${chamber}-a` })];
      await accept(database.sql, { chamber, scans });
      while (await analyseChamber(shop, chamber));
    }
    return Object.fromEntries(given);
  };

  test('cases of its kind, until they are withdrawn; of a chamber without a kind its own', async () => {
    await keep('e1', 'c1', 'etch');
    await keep('e22', 'c4', null);
    const shop = listening();
    expect(await scanAll(shop, 0)).toEqual({ c1: ['e1'], c2: ['e1'], c3: [], c4: ['e22'] });
    await keep('e333', 'c2', 'etch');
    expect(await scanAll(shop, 1)).toMatchObject({ c1: ['e1', 'e333'], c2: ['e1', 'e333'], c3: [] });
    await database.transaction((tx) => withdrawExample(tx, { id: 'e1', at: minutesAfter(1), by: 'ann' }));
    expect(await scanAll(shop, 2)).toMatchObject({ c1: ['e333'], c2: ['e333'] });
  });
});

test('a case is kept once; one that was withdrawn may be kept again', async () => {
  expect(await keep('e1', 'c1', 'etch')).toMatchObject({ id: 'e1', withdrawnAt: null });
  expect(await keep('e1', 'c1', 'etch')).toBeNull();
  await database.transaction((tx) => withdrawExample(tx, { id: 'e1', at: minutesAfter(1), by: 'ann' }));
  expect(await keep('e1', 'c1', 'etch')).toMatchObject({ id: 'e1', withdrawnAt: null, withdrawnBy: null, check: null });
});
