/**
 * An engineer tries a change before saving it, and live then does what the rehearsal said: a limit, a rationalisation, a
 * pinned baseline; and a closed case becomes an example by which the next one is named. Server and workers in earnest.
 * Truth by construction: what was done to the chambers stands in tests/support/strangerFleet.ts.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { RehearsedAlert } from '../../shared/contract/rehearsal.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { NOW, openWorld, type World } from '../server/world.ts';
import { workToTheEnd } from '../support/askedTasks.ts';
import { quiet } from '../support/services.ts';
import { STORIES, type Story } from '../support/strangerFleet.ts';
import { fleetOf, scansOf } from '../support/strangers.ts';

const story = (id: string) => STORIES.find((one) => one.id === id) as Story;
/** Two chambers of a kind: one gets air forty minutes before the end, the other stays as it is. */
const TOLD = [story('air-wet'), story('quiet-wet')];
const END_MS = NOW.getTime() - 60_000;
const MINUTES = 300;
const minute = (i: number) => new Date(END_MS - (MINUTES - i) * 60_000);

interface Product {
  world: World;
  shop: Workshop;
  /** Sends the scans from one minute to another, and has them judged. */
  send: (from: number, to: number) => Promise<void>;
  work: () => Promise<void>;
  alerts: (chamber: string) => Promise<(RehearsedAlert & { id: string })[]>;
}

const open = async (): Promise<Product> => {
  const world = await openWorld();
  const shop = openWorkshop({ database: world.db, science: makeScience(), log: quiet, stopping: () => false });
  const put = await world.ask('PUT', '/api/v1/fleet', { body: fleetOf(TOLD) });
  expect(put.status).toBe(200);
  const send = async (from: number, to: number) => {
    for (const one of TOLD) {
      const scans = scansOf(one, { endMs: END_MS, minutes: MINUTES, periodSeconds: 60 }).slice(from, to);
      for (let i = 0; i < scans.length; i += 100) {
        const { body } = await world.ask('POST', '/api/v1/scans', { body: { scans: scans.slice(i, i + 100) } });
        expect(body.rejected).toEqual([]);
      }
      while (await analyseChamber(shop, one.id));
    }
  };
  return {
    world,
    shop,
    send,
    work: async () => {
      for (const { id } of TOLD) await workToTheEnd(shop, id);
    },
    alerts: async (chamber) =>
      (await world.ask('GET', `/api/v1/alerts?chamber=${chamber}`)).body.alerts
        .map((alert: RehearsedAlert & { id: string }) => ({
          id: alert.id,
          signature: alert.signature,
          gases: [...alert.gases].sort(),
          priority: alert.priority,
          raisedAt: alert.raisedAt,
          returnedAt: alert.returnedAt,
        }))
        .sort(byTime),
  };
};

const byTime = (a: RehearsedAlert, b: RehearsedAlert) => (a.raisedAt + a.signature < b.raisedAt + b.signature ? -1 : 1);
const plain = (alerts: readonly (RehearsedAlert & { id?: string })[]) =>
  alerts.map(({ id: _, ...alert }) => ({ ...alert, gases: [...alert.gases].sort() })).sort(byTime);

const LIMITS = [{ gas: 'oxygen', limitPa: 3e-8, priority: 'high' as const }];

let product: Product;
beforeAll(async () => {
  product = await open();
  await product.send(0, MINUTES + 1);
});
afterAll(() => product?.world.close());

const rehearse = async (body: unknown) => {
  const asked = await product.world.ask('POST', '/api/v1/rehearsals', { body });
  expect(asked.status).toBe(202);
  await product.work();
  return (await product.world.ask('GET', `/api/v1/rehearsals/${asked.body.id}`)).body;
};

/** The same past, with the changed setting saved before the first scan. */
const saved = async (save: (other: Product) => Promise<{ status: number }>) => {
  const other = await open();
  try {
    expect((await save(other)).status).toBe(200);
    await other.send(0, MINUTES + 1);
    return { wet: plain(await other.alerts('air-wet')), quiet: plain(await other.alerts('quiet-wet')) };
  } finally {
    await other.world.close();
  }
};

describe('what a rehearsal says is what live does', () => {
  test('a limit, over a kind of chamber', async () => {
    const said = await rehearse({ chamberKind: 'test stand', change: { kind: 'limits', limits: LIMITS } });
    expect(said.state).toBe('done');
    const [wet, quiet] = said.chambers;
    expect([wet.chamber, quiet.chamber, wet.scans, wet.ofScans]).toEqual(['air-wet', 'quiet-wet', 301, 301]);
    const live = await saved(({ world }) =>
      world.ask('PUT', '/api/v1/chambers/air-wet/limits', { body: { limits: LIMITS } }),
    );
    const limit = live.wet.filter(({ signature }) => signature === 'limit');
    expect(limit).toHaveLength(1);
    expect(plain(wet.gained)).toEqual(limit);
    expect([wet.asIs, wet.lost, quiet.gained]).toEqual([[], [], []]);
    expect(said.perDay.asIs).toBe(0);
    expect(said.perDay.asChanged).toBeCloseTo(24 / 5, 4);
  });

  test('a rationalisation: the alert comes later, and nothing else changes', async () => {
    const { records } = (await product.world.ask('GET', '/api/v1/rationalisation?kind=test%20stand')).body;
    const inForce = records.find(({ signature }: { signature: string }) => signature === 'air-leak');
    const record = { ...inForce.record, onDelayScans: 12 };
    const change = { kind: 'rationalisation', signature: 'air-leak', record };
    const said = await rehearse({ chamberKind: 'test stand', days: 30, change });
    expect(said.state).toBe('done');
    const [wet, quiet] = said.chambers;
    expect(plain(wet.asIs)).toEqual(plain(await product.alerts('air-wet')));
    const live = await saved(({ world }) =>
      world.ask('PUT', '/api/v1/rationalisation/air-leak', {
        body: { kind: 'test stand', basedOn: inForce.version, record, note: 'Doors breathe here' },
      }),
    );
    expect(plain(wet.asChanged)).toEqual(live.wet);
    expect(wet.moved.map(({ asIs }: { asIs: RehearsedAlert }) => asIs.signature)).toEqual(['air-leak']);
    expect([quiet.asIs, quiet.asChanged, live.quiet]).toEqual([[], [], []]);
  });
});

describe('a baseline pinned late', () => {
  test('is learned, tried and put in force; what was judged before stays judged', async () => {
    const { world, work } = product;
    const analyser = '/api/v1/analysers/quiet-wet-a/pins';
    const note = 'Quiet since morning';
    const body = { state: 'base', from: minute(60).toISOString(), to: minute(260).toISOString(), note };
    const { id } = (await world.ask('POST', analyser, { body })).body;
    await work();
    const [pin] = (await world.ask('GET', analyser)).body.pins;
    expect(pin).toMatchObject({ id, state: 'proposed', scans: 201 });
    // By construction (strangerFleet.ts): water 4e-6 Pa at rest; the estimator's sensitivity errs by 12 % (one sigma).
    expect(pin.usual.H2O.median).toBeGreaterThan(4e-6 / 1.6);
    expect(pin.usual.H2O.median).toBeLessThan(4e-6 * 1.6);
    const said = await rehearse({ change: { kind: 'baseline', pin: id } });
    expect(said).toMatchObject({ state: 'done', chambers: [{ chamber: 'quiet-wet', gained: [], lost: [] }] });
    const before = await world.db.sql`select * from readings where chamber = 'quiet-wet' order by at`;
    expect((await world.ask('POST', `${analyser}/${id}/enforce`, { body: { note } })).body.state).toBe('in-force');
    expect(await world.db.sql`select * from readings where chamber = 'quiet-wet' order by at`).toEqual(before);
    expect(
      (await world.ask('POST', '/api/v1/rehearsals', { body: { change: { kind: 'baseline', pin: id } } })).status,
    ).toBe(422);
  });

  test('a period in which an alert stood is refused, with the alert', async () => {
    const { world, work } = product;
    const analyser = '/api/v1/analysers/air-wet-a/pins';
    const span = { from: minute(100).toISOString(), to: minute(300).toISOString() };
    await world.ask('POST', analyser, { body: { state: 'base', ...span, note: 'Not so clean' } });
    await work();
    const [pin] = (await world.ask('GET', analyser)).body.pins;
    expect(pin).toMatchObject({ state: 'failed', problem: expect.stringMatching(/air-leak/) });
  });
});

describe('a closed case', () => {
  test('is kept as an example with what was found, checked, and given to the watch of its kind', async () => {
    const { world, work } = product;
    const alert = (await product.alerts('air-wet')).find(({ signature }) => signature === 'air-leak');
    const id = alert?.id as string;
    expect((await world.ask('POST', `/api/v1/alerts/${id}/example`, { body: {} })).status).toBe(409);
    const closing = { cause: 'gasket', verified: 'air-leak' };
    expect((await world.ask('POST', `/api/v1/alerts/${id}/close`, { body: closing })).status).toBe(200);
    const kept = await world.ask('POST', `/api/v1/alerts/${id}/example`, { body: { note: 'Flange F3' } });
    expect(kept).toMatchObject({ status: 201, body: { claimed: 'air-leak', verified: 'air-leak', check: null } });
    await work();
    const [example] = (await world.ask('GET', '/api/v1/examples')).body.examples;
    expect(example.check).toMatchObject({ named: 'air-leak', right: true });
  });
});
