import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { insertCalibration } from '../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { unpackInstrument, unpackMemory } from '../../shared/db/memory.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { aCalibration } from '../support/calibrationRows.ts';
import {
  raised,
  returned,
  type Script,
  type ScriptedInstrument,
  type ScriptedMemory,
  scriptedScience,
} from '../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet } from '../support/storedFleet.ts';

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
    watch_memory, chamber_states, baselines, limits, alerts, alert_moves, calibrations`;
  await storeFleet(database.sql, aFleet('c1'));
});

const shopOf = (script: Script = {}, stated: Partial<Workshop> = {}): Workshop =>
  openWorkshop({ database, science: scriptedScience(script), log: quiet, stopping: () => false, ...stated });
const give = (...minutes: number[]) => accept(database.sql, { chamber: 'c1', scans: minutes.map((m) => aScan(m)) });
const readings = () => database.sql<
  { scan_id: string; judged: boolean; notes: { code: string; text: string }[]; estimates: Buffer | null }[]
>`
  select scan_id, judged, notes, estimates from readings order by at, scan_id`;
const outstanding = async () => (await database.sql`select 1 from outstanding_scans`).length;
const memory = async () => {
  const [row] = await database.sql<{ memory: Buffer; version: number }[]>`select memory, version from watch_memory`;
  return row && { ...(unpackMemory(row.memory) as ScriptedMemory), version: row.version };
};
const instrument = async () => {
  const [row] = await database.sql<{ instrument: Buffer | null }[]>`select instrument from watch_memory`;
  return row?.instrument ? (unpackInstrument(row.instrument) as ScriptedInstrument) : null;
};
const alerts = () => database.sql<
  { id: string; state: string; held_by: string[]; signature: string; active: boolean }[]
>`
  select id, state, held_by, signature, active from alerts order by raised_at, id`;
const at = (minute: number) => minutesAfter(minute).getTime();

describe('what is outstanding', () => {
  test('becomes readings in time order, whatever the order of arrival', async () => {
    await give(3);
    await give(1, 2);
    expect(await analyseChamber(shopOf(), 'c1')).toBe(false);
    expect((await readings()).map((row) => [row.scan_id, row.judged])).toEqual([
      ['m1', true],
      ['m2', true],
      ['m3', true],
    ]);
    expect(await memory()).toMatchObject({ scans: ['m1', 'm2', 'm3'], version: 1 });
    expect(await outstanding()).toBe(0);
  });

  test('goes on from the stored memory, in this process as in another', async () => {
    const shop = shopOf();
    for (const minute of [1, 2]) {
      await give(minute);
      await analyseChamber(shop, 'c1');
    }
    await give(3);
    await analyseChamber(shopOf(), 'c1');
    expect(await memory()).toMatchObject({ scans: ['m1', 'm2', 'm3'], version: 3 });
  });

  test('a late scan is stored unjudged; the latest and the memory stay', async () => {
    await give(1, 3);
    await analyseChamber(shopOf(), 'c1');
    await give(2);
    await analyseChamber(shopOf(), 'c1');
    expect((await readings()).map((row) => [row.scan_id, row.judged])).toEqual([
      ['m1', true],
      ['m2', false],
      ['m3', true],
    ]);
    expect(await memory()).toMatchObject({ scans: ['m1', 'm3'], version: 1 });
    expect(await database.sql`select scan_id, strip from latest`).toMatchObject([
      { scan_id: 'm3', strip: [{ gas: 'N2', decades: 1 }] },
    ]);
  });

  test('more than one batch is worked through', async () => {
    await give(...Array.from({ length: 1100 }, (_, i) => i));
    const shop = shopOf();
    // A turn ends after a while on a slow machine; the next goes on with what is left.
    while (await analyseChamber(shop, 'c1'));
    expect(await readings()).toHaveLength(1100);
    expect((await memory())?.version).toBe(3);
  });

  test('a worker that is stopping leaves the rest for others', async () => {
    await give(1);
    expect(await analyseChamber(shopOf({}, { stopping: () => true }), 'c1')).toBe(true);
    expect(await outstanding()).toBe(1);
  });

  test('the newest spectrum has the usual height beside each peak', async () => {
    await give(1);
    await analyseChamber(shopOf(), 'c1');
    const [row] = await database.sql`select spectrum, state, state_since, scan_period_seconds from latest`;
    expect(row).toMatchObject({
      state: 'base',
      state_since: minutesAfter(1),
      scan_period_seconds: 60,
      spectrum: {
        scanId: 'm1',
        seconds: 10,
        averages: 1,
        detector: null,
        peaks: [{ mass: 28, value: 2e-7, baseline: 2e-7 }],
      },
    });
  });
});

describe('poison', () => {
  test('a scan that the analysis cannot bear is stored with the reason, and shows as no answer', async () => {
    const analyse = ({ id }: { id: string }) => {
      if (id === 'm2') throw new Error('cannot');
    };
    await give(1, 2);
    expect(await analyseChamber(shopOf({ analyse }), 'c1')).toBe(false);
    const [, bad] = await readings();
    expect(bad).toMatchObject({ estimates: null, judged: false, notes: [{ code: 'analysis-failed' }] });
    expect(await database.sql`select scan_id, estimates, spectrum, strip from latest`).toMatchObject([
      { scan_id: 'm2', estimates: null, spectrum: null, strip: [{ gas: 'N2' }] },
    ]);
  });

  test('a result that the database refuses is found, stored with the reason, and stops nobody', async () => {
    const events = ({ id, atMs }: { id: string; atMs: number }) =>
      id === 'm2' ? [raised(atMs, 'water', { gases: ['N\0'] })] : [];
    await give(1, 2, 3);
    expect(await analyseChamber(shopOf({ events }), 'c1')).toBe(false);
    expect((await readings()).map((row) => [row.scan_id, row.notes[0]?.code])).toEqual([
      ['m1', undefined],
      ['m2', 'analysis-failed'],
      ['m3', undefined],
    ]);
    expect(await memory()).toMatchObject({ scans: ['m1', 'm3'] });
  });

  test('a memory that cannot be read begins anew', async () => {
    await give(1);
    await analyseChamber(shopOf(), 'c1');
    await database.sql`update watch_memory set memory = '\\x00'`;
    await give(2);
    expect(await analyseChamber(shopOf(), 'c1')).toBe(false);
    expect(await memory()).toMatchObject({ scans: ['m2'], version: 2 });
  });

  test('work without a scan is ended with a reading that says so', async () => {
    await give(1);
    await database.sql`delete from scans`;
    expect(await analyseChamber(shopOf(), 'c1')).toBe(false);
    expect((await readings())[0]?.notes[0]?.text).toBe('The stored scan is missing.');
  });
});

describe('two workers', () => {
  test('that race for one chamber leave one reading per scan and one unbroken memory', async () => {
    const minutes = Array.from({ length: 400 }, (_, i) => i);
    const events = ({ id, atMs }: { id: string; atMs: number }) =>
      Number(id.slice(1)) % 10 === 0
        ? [raised(atMs, 'water')]
        : Number(id.slice(1)) % 10 === 5
          ? [returned(atMs, 'water')]
          : [];
    const racing = (async () => {
      for (let i = 0; i < 400; i += 20) await give(...minutes.slice(i, i + 20));
    })();
    const others = Array.from({ length: 4 }, async () => {
      const shop = shopOf({ events });
      const { sql } = database;
      for (let rounds = 0; rounds < 5_000; rounds++) {
        await analyseChamber(shop, 'c1');
        const [done] = await sql`select count(*)::int as n from readings`;
        if (done?.n === 400) return;
      }
    });
    await Promise.all([racing, ...others]);
    expect(await readings()).toHaveLength(400);
    expect(await outstanding()).toBe(0);
    const remembered = (await memory())?.scans ?? [];
    const judged = (await readings()).filter((row) => row.judged).map((row) => row.scan_id);
    expect(remembered).toEqual(judged);
    const open = (await alerts()).filter(({ state }) => state !== 'normal');
    expect(open).toHaveLength(1);
  });

  test('one that was frozen during its mathematics and wakes later writes nothing', async () => {
    await give(1, 2);
    let wake = () => {};
    const frozen = new Promise<void>((resolve) => {
      wake = resolve;
    });
    const sleepy = scriptedScience({ events: ({ atMs }) => [raised(atMs, 'water')] });
    const gasLists = async () => {
      await frozen;
      return 1;
    };
    const zombie = analyseChamber({ ...shopOf(), science: sleepy, gasLists }, 'c1');
    await expect.poll(async () => (await database.sql`select 1 from outstanding_scans`).length).toBe(2);
    await analyseChamber(shopOf(), 'c1');
    await give(3);
    wake();
    expect(await zombie).toBe(false);
    // What it had made of the first two is gone; what it did afterwards began from the other's memory.
    expect(await memory()).toMatchObject({ scans: ['m1', 'm2', 'm3'], version: 2 });
    expect(await readings()).toHaveLength(3);
    expect(await alerts()).toMatchObject([{ id: expect.any(String), signature: 'water' }]);
    expect(await database.sql`select raised_at from alerts`).toEqual([{ raised_at: minutesAfter(3) }]);
  });
});

describe('alerts', () => {
  test('a raise is stored with its move and heard by listeners', async () => {
    const heard: unknown[] = [];
    await database.listen('ullage_events', (payload) => void heard.push(JSON.parse(payload)));
    await give(1);
    await analyseChamber(shopOf({ events: ({ atMs }) => [raised(atMs, 'water')] }), 'c1');
    const [alert] = await alerts();
    expect(alert).toMatchObject({ state: 'unacknowledged', held_by: ['c1-a'], active: true });
    expect(await database.sql`select alert, seq, move, to_state, at from alert_moves`).toEqual([
      { alert: alert?.id, seq: 1, move: 'raise', to_state: 'unacknowledged', at: minutesAfter(1) },
    ]);
    await expect
      .poll(() => heard)
      .toEqual([
        { event: 'reading', chamber: 'c1', analyser: 'c1-a', at: minutesAfter(1).toISOString() },
        {
          event: 'alert',
          chamber: 'c1',
          id: alert?.id,
          signature: 'water',
          priority: 'medium',
          state: 'unacknowledged',
        },
      ]);
  });

  test('a person who closes one is heard by the watch once, and the condition may be raised anew', async () => {
    const events = ({ id, atMs }: { id: string; atMs: number }, closed: readonly string[]) =>
      id === 'm1' || closed.includes('water') ? [raised(atMs, 'water')] : [];
    const shop = shopOf({ events });
    await give(1);
    await analyseChamber(shop, 'c1');
    await database.sql`update alerts set state = 'normal', active = false, closed_at = now(), closed_by = 'ann', closed_cause = 'bake'`;
    await give(2);
    await analyseChamber(shop, 'c1');
    await give(3);
    await analyseChamber(shop, 'c1');
    expect((await memory())?.told).toEqual(['water']);
    expect(await alerts()).toMatchObject([
      { state: 'normal', held_by: [] },
      { state: 'unacknowledged', held_by: ['c1-a'] },
    ]);
  });

  test('a person who closes one while its batch is being worked out is heard with the next', async () => {
    await give(1);
    await analyseChamber(shopOf({ events: ({ atMs }) => [raised(atMs, 'water')] }), 'c1');
    await give(2);
    const update = (atMs: number) => [
      { ...raised(atMs, 'water'), kind: 'updated' as const } as ReturnType<typeof raised>,
    ];
    const shop = shopOf({ events: ({ atMs }) => update(atMs) });
    const gasLists: Workshop['gasLists'] = async (gases) => {
      await database.sql`update alerts set state = 'normal', active = false, closed_at = now(), closed_by = 'ann'`;
      return shop.gasLists(gases);
    };
    await analyseChamber({ ...shop, gasLists }, 'c1');
    expect(await alerts()).toMatchObject([{ state: 'normal', held_by: ['c1-a'] }]);
    await give(3);
    await analyseChamber(shop, 'c1');
    expect((await memory())?.told).toEqual(['water']);
  });

  test('moves of people and of the watch are numbered one after another', async () => {
    const events = ({ id, atMs }: { id: string; atMs: number }) =>
      id === 'm1' ? [raised(atMs, 'water')] : [returned(atMs, 'water')];
    await give(1);
    await analyseChamber(shopOf({ events }), 'c1');
    await database.sql`insert into alert_moves (chamber, alert, seq, at, by, move, from_state, to_state)
      select chamber, id, 2, now(), 'ann', 'acknowledge', 'unacknowledged', 'acknowledged' from alerts`;
    await database.sql`update alerts set state = 'acknowledged', acknowledged_at = now(), acknowledged_by = 'ann'`;
    await give(2);
    await analyseChamber(shopOf({ events }), 'c1');
    expect(await database.sql`select seq, move, to_state from alert_moves order by seq`).toEqual([
      { seq: 1, move: 'raise', to_state: 'unacknowledged' },
      { seq: 2, move: 'acknowledge', to_state: 'acknowledged' },
      { seq: 3, move: 'return', to_state: 'normal' },
    ]);
  });
});

describe('what people set', () => {
  test('documents and limits are those of the moment of the batch', async () => {
    const seen: unknown[] = [];
    const science = scriptedScience();
    const shop = shopOf(
      {},
      {
        science: {
          ...science,
          analyserFor: (calibration, gases) => {
            seen.push([calibration.version, calibration.sensitivityAmperesPerPascal, ...gases]);
            return science.analyserFor(calibration, gases);
          },
          watchScan: (stored, context, input) => {
            seen.push(context.limits);
            return science.watchScan(stored, context, input);
          },
        },
      },
    );
    await give(1);
    await analyseChamber(shop, 'c1');
    await database.sql`update chambers set document = document || '{"gases": ["SF6"]}'`;
    await database.sql`update analysers set version = 2, document = document || '{"sensitivityAmperesPerPascal": 1e-6}'`;
    await database.sql`insert into limits (chamber, gas, limit_pa, priority, note, set_at, set_by)
      values ('c1', 'H2O', 1e-6, 'high', '', now(), 'ann')`;
    await give(2);
    await analyseChamber(shop, 'c1');
    expect(seen).toEqual([
      ['c1-a/1', 7.5e-7],
      [],
      ['c1-a/2', 1e-6, 'SF6'],
      [{ gas: 'H2O', limitPa: 1e-6, priority: 'high' }],
    ]);
    expect(await database.sql`select calibration_version from readings order by at`).toEqual([
      { calibration_version: 'c1-a/1' },
      { calibration_version: 'c1-a/2' },
    ]);
  });
});

describe('what is remembered of the analyser itself', () => {
  const versions = () => database.sql`select scan_id, calibration_version from readings order by at`;
  const put = (...rows: ReturnType<typeof aCalibration>[]) =>
    database.transaction(async (tx) => {
      for (const row of rows) await insertCalibration(tx, row);
    });

  test('goes from scan to scan, in this process as in another', async () => {
    const shop = shopOf();
    for (const minute of [1, 2]) {
      await give(minute);
      await analyseChamber(shop, 'c1');
    }
    await give(3, 4);
    await analyseChamber(shopOf(), 'c1');
    expect((await instrument())?.scans).toEqual(['m1', 'm2', 'm3', 'm4']);
    expect(await database.sql`select instrument from latest`).toEqual([
      { instrument: expect.objectContaining({ noise: { sigmaPa: 1e-9, scans: 4 } }) },
    ]);
  });

  test('a late scan is analysed with it, and changes nothing', async () => {
    await give(1, 3);
    await analyseChamber(shopOf(), 'c1');
    await give(2);
    const [given, science] = [[] as unknown[], scriptedScience()];
    await analyseChamber(
      shopOf(
        {},
        {
          science: {
            ...science,
            analyserFor: (...asked) => ({
              analyse: (scan, memory) => {
                given.push(memory);
                return science.analyserFor(...asked).analyse(scan, memory);
              },
            }),
          },
        },
      ),
      'c1',
    );
    expect(given).toMatchObject([{ scans: ['m1', 'm3'] }]);
    expect((await instrument())?.scans).toEqual(['m1', 'm3']);
  });

  test('a scan that the watch could not judge is not learned from, however the scans are batched', async () => {
    const watch = ({ id }: { id: string }) => {
      if (id === 'm2') throw new Error('lost the thread');
    };
    await give(1, 2, 3);
    await analyseChamber(shopOf({ watch }), 'c1');
    expect((await instrument())?.scans).toEqual(['m1', 'm3']);
  });

  test('what cannot be read begins anew, and the watch goes on', async () => {
    await give(1);
    await analyseChamber(shopOf(), 'c1');
    await database.sql`update watch_memory set instrument = '\\x00'`;
    await give(2);
    await analyseChamber(shopOf(), 'c1');
    expect((await instrument())?.scans).toEqual(['m2']);
    expect((await memory())?.scans).toEqual(['m1', 'm2']);
  });

  test('one batch crosses into another calibration at its instant, and the memory goes on', async () => {
    await put(aCalibration('k1', { validFrom: minutesAfter(2), validTo: minutesAfter(4) }));
    await database.sql`update analysers set version = 2`;
    const seen: unknown[] = [];
    await give(1, 2, 3, 4);
    await analyseChamber(
      shopOf({ analyse: (_scan, { sensitivityAmperesPerPascal }) => void seen.push(sensitivityAmperesPerPascal) }),
      'c1',
    );
    expect(seen).toEqual([7.5e-7, 5e-7, 5e-7, 7.5e-7]);
    expect(await versions()).toEqual([
      { scan_id: 'm1', calibration_version: 'c1-a/2' },
      { scan_id: 'm2', calibration_version: 'c1-a/2+k1' },
      { scan_id: 'm3', calibration_version: 'c1-a/2+k1' },
      { scan_id: 'm4', calibration_version: 'c1-a/2' },
    ]);
    expect(await instrument()).toEqual({
      scans: ['m1', 'm2', 'm3', 'm4'],
      versions: ['c1-a/2', 'c1-a/2+k1', 'c1-a/2+k1', 'c1-a/2'],
    });
  });

  test('a calibration that is set in the past changes no stored reading, and is used for what comes late', async () => {
    await give(1, 3);
    await analyseChamber(shopOf(), 'c1');
    await put(aCalibration('k1'));
    await give(2);
    await analyseChamber(shopOf(), 'c1');
    expect((await versions()).map((row) => row.calibration_version)).toEqual(['c1-a/1', 'c1-a/1+k1', 'c1-a/1']);
  });

  test('several workers choose the same calibrations', async () => {
    await put(
      aCalibration('k1', { validFrom: minutesAfter(30) }),
      aCalibration('k2', { kind: 'gain', validFrom: minutesAfter(60), validTo: minutesAfter(90) }),
    );
    await give(...Array.from({ length: 120 }, (_, i) => i));
    await Promise.all([shopOf(), shopOf(), shopOf()].map((shop) => analyseChamber(shop, 'c1')));
    const tally = await database.sql`
      select calibration_version as version, count(*)::int as scans from readings group by 1 order by 1`;
    // From minute 90 on the second holds again.
    expect(tally.map(({ version, scans }) => [version, scans])).toEqual([
      ['c1-a/1', 30],
      ['c1-a/1+k1', 60],
      ['c1-a/1+k1+k2', 30],
    ]);
    expect((await instrument())?.scans).toHaveLength(120);
  });

  test('how the newest scan was measured is stored beside it, and its figures with its reading', async () => {
    const measured = () => ({
      gain: { value: 1234.5, uncertainty: 0.02, from: 'pair' as const, atMs: at(0) },
      readNoisePa: 1e-50,
    });
    await accept(database.sql, { chamber: 'c1', scans: [aScan(1, { detector: 'multiplier' })] });
    await analyseChamber(shopOf({ measured }), 'c1');
    expect(
      await database.sql`select chi_square_per_dof, detector, mass_offset_u, width_u, read_noise_pa, gain from readings`,
    ).toEqual([
      {
        chi_square_per_dof: 1,
        detector: 'multiplier',
        mass_offset_u: 0.05,
        width_u: 0.8,
        read_noise_pa: 1e-50,
        gain: 1234.5,
      },
    ]);
    const [row] = await database.sql`select measurement, spectrum from latest`;
    expect(row?.measurement).toMatchObject({ ...measured(), chiSquarePerDof: 1, noisePerGasPa: { N2: 1e-9 } });
    expect(row?.spectrum.peaks).toMatchObject([{ mass: 28, residual: 1e-10 }]);
  });

  test('figures that are too great or too small for their column stop no reading', async () => {
    const extremes: Record<string, number> = { m1: 1e300, m2: 1e-300, m3: Number.NaN };
    const measured = ({ id }: { id: string }) => ({
      massScale: { offsetU: extremes[id] as number, slope: 0, pivot: 28 },
    });
    await give(1, 2, 3);
    await analyseChamber(shopOf({ measured }), 'c1');
    expect(await database.sql`select mass_offset_u, estimates is not null as whole from readings order by at`).toEqual([
      { mass_offset_u: null, whole: true },
      { mass_offset_u: 0, whole: true },
      { mass_offset_u: null, whole: true },
    ]);
  });

  test('when the newest scan gives no answer, nothing stands beside it, and what was learned stays', async () => {
    const analyse = ({ id }: { id: string }) => {
      if (id === 'm2') throw new Error('cannot');
    };
    const shop = shopOf({ analyse });
    for (const minute of [1, 2]) {
      await give(minute);
      await analyseChamber(shop, 'c1');
    }
    const [row] = await database.sql`select scan_id, measurement, instrument from latest`;
    expect(row).toMatchObject({ scan_id: 'm2', measurement: null, instrument: { noise: { scans: 1 } } });
  });
});

test('the times of alerts are those of scans', async () => {
  await give(1, 2);
  const events = ({ atMs }: { atMs: number }) => (atMs === at(1) ? [raised(atMs, 'water')] : [returned(atMs, 'water')]);
  await analyseChamber(shopOf({ events }), 'c1');
  expect(await database.sql`select raised_at, returned_at from alerts`).toEqual([
    { raised_at: minutesAfter(1), returned_at: minutesAfter(2) },
  ]);
});
