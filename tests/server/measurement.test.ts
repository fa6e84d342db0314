/**
 * The whole way: scans over HTTP, the real analysis in a worker, and what the server says of the measurement. Spectra are
 * simulated, seed fixed, so truth is known by construction; ions and patterns as published records have them.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { makeChamberTurn } from '../../workers/chamberTurn.ts';
import { openGate } from '../../workers/gate.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { makeSimulatedAnalyser, seededRandom, simulateScan } from '../support/instrument.ts';
import { quiet } from '../support/services.ts';
import { FLEET, NOW, openWorld, type World } from './world.ts';

const [A, B] = ['n-prep-1-a', 'n-prep-1-c'];
const HOLDS = { H2: 2e-7, H2O: 4e-7, N2: 2e-7, CO: 4e-8, O2: 2e-8, Ar: 8e-9, CO2: 2e-8 };
/** The second analyser makes ten times the chamber's CO. */
const SECOND = { ...HOLDS, CO: 4.4e-7 };
const SCANS = 64;

let world: World;
let work: () => Promise<void>;
const at = (k: number) => new Date(NOW.getTime() - (SCANS - k) * 60_000).toISOString();

const { gases } = catalogueFor([]);
const random = seededRandom(5);
const make = { fragmentSpread: 0.05, sensitivitySpread: 0.05, tiltSpread: 0 };
const instruments = [makeSimulatedAnalyser(random, gases, make), makeSimulatedAnalyser(random, gases, make)] as const;
/** The gauge reads what it would in this mixture, and 0.8 of it: kappa stands at 0.8 times the sensitivities' 6 over 7.5. */
const gauge = (truth: Readonly<Record<string, number>>) =>
  0.8 * gases.reduce((sum, gas) => sum + (truth[gas.id] ?? 0) * gas.relativeSensitivity.value, 0);

const scan = (which: 0 | 1, k: number, truth: Record<string, number>) => {
  const masses = { first: 1, last: 100, perUnit: 1 };
  const settings = { unit: 'A', masses, range: 2e5, ions: 1e8, gaugeSpread: 0.01 } as const;
  const made = simulateScan(random, instruments[which], truth, settings, gauge);
  return {
    analyser: which === 0 ? A : B,
    id: `s${k}`,
    at: at(k),
    seconds: 0.085 * 100,
    averages: 2,
    masses,
    values: [...made.scan.values],
    unit: 'A',
    detector: 'faraday',
    totalPressure: { value: made.scan.totalPressurePa, unit: 'Pa' },
  };
};

beforeAll(async () => {
  world = await openWorld();
  const second = { id: B, chamber: 'n-prep-1', massRange: [1, 100], sensitivityAmperesPerPascal: 6e-7 };
  await world.ask('PUT', '/api/v1/fleet', { body: { ...FLEET, analysers: [...FLEET.analysers, second] } });
  const shop = openWorkshop({ database: world.db, science: makeScience(), log: quiet, stopping: () => false });
  const turn = makeChamberTurn({ shop, gate: openGate(), nudge: async () => {} });
  work = async () => {
    for (let k = 0; k < 50; k++) await turn('n-prep-1');
  };
  const scans = Array.from({ length: SCANS }, (_, k) => [scan(0, k, HOLDS), scan(1, k, SECOND)]).flat();
  const { body } = await world.ask('POST', '/api/v1/scans', { body: { scans } });
  expect(body.accepted).toBe(2 * SCANS);
  await work();
});
afterAll(() => world.close());

const get = async (path: string) => (await world.ask('GET', `/api/v1/${path}`)).body;

test('the measurement of each analyser is told', async () => {
  const body = await get(`analysers/${A}/measurement`);
  expect(body).toMatchObject({ detector: 'faraday', seconds: 8.5, averages: 2, responseSeconds: 17 });
  // One standard deviation of a height is the largest peak, water's, over 2e5; the floor three of them.
  expect(body.floor / (3 * body.noise.sigma)).toBeCloseTo(1, 1);
  expect(body.decades).toBeGreaterThan(4);
  expect(body.decades).toBeLessThan(6);
  expect(body.floors.find(({ gas }: { gas: string }) => gas === 'N2')).toMatchObject({ detected: true, limit: null });
  // Currents were made with 6e-7 A/Pa and are read with 7.5e-7: pressures come out at 0.8 and kappa at 0.8 / 0.8.
  expect(body.kappa.now).toBeGreaterThan(0.75);
  expect(body.kappa.now).toBeLessThan(1.3);
  expect(body.kappa.scans).toBeGreaterThan(SCANS / 2);
  expect(body.calibration.version).toBe(`${A}/1`);
});

test('residuals add up: height is what explains it and what is left', async () => {
  const { peaks } = await get(`analysers/${A}/residuals`);
  const told = peaks.filter(({ residual }: { residual: number | null }) => residual !== null);
  expect(told.length).toBeGreaterThan(50);
  // Six digits of each.
  for (const { height, explained, residual } of told)
    expect(Math.abs(explained + residual - height)).toBeLessThan(1e-5 * (Math.abs(height) + Math.abs(residual)));
  const water = peaks.find(({ mass }: { mass: number }) => mass === 18);
  expect(Math.abs(water.residual / water.height)).toBeLessThan(0.05);
});

test('a plan rests on the noise of these scans', async () => {
  const { sigma } = (await get(`analysers/${A}/measurement`)).noise;
  // Helium at m/z 4 gives a fifth of what nitrogen gives: three sigma of a scan are some fifteen of its pressure.
  const body = await get(`analysers/${A}/plan?gas=He&pressure=${7 * sigma}`);
  expect(body.mass).toBe(4);
  expect(body.sweeps).toBeGreaterThan(4);
  expect(body.sweeps).toBeLessThan(24);
  expect(body.responseSeconds).toBeCloseTo(body.sweeps * 8.5, 4);
  expect(body.curve.length).toBeGreaterThan(3);
  expect(body.curve[0]).toMatchObject({ sweeps: 2, seconds: 17 });
});

test('the second analyser is told to add CO of its own', async () => {
  const body = await get(`chambers/n-prep-1/comparison?first=${A}&second=${B}&relativeTo=H2O`);
  expect(body.scans).toEqual([SCANS, SCANS]);
  const co = body.gases.find(({ gas }: { gas: string }) => gas === 'CO');
  expect(co.ratioLow).toBeLessThan(11);
  expect(co.differs).toBe('yes');
  expect(body.addsGas).toMatchObject({ analyser: B, gases: ['CO'] });
});

describe('a calibration of today', () => {
  test('changes no stored reading; a recomputation with it is a series of its own', async () => {
    const span = `from=${at(0)}&to=${NOW.toISOString()}&gases=N2&points=1&analyser=${A}`;
    const before = await get(`chambers/n-prep-1/trend?${span}`);
    const path = `/api/v1/analysers/${A}`;
    const entry = { kind: 'sensitivity', value: 6e-7, source: 'certificate', validFrom: at(0), note: 'As it was made' };
    const { id } = (await world.ask('POST', `${path}/calibrations`, { body: entry })).body;
    const asked = { kind: 'recomputation', from: at(0), to: NOW.toISOString(), note: 'With the certificate' };
    const task = (await world.ask('POST', `${path}/tasks`, { body: asked })).body;
    expect(task.state).toBe('waiting');
    await work();
    expect((await get(`analysers/${A}/tasks/${task.id}`)).state).toBe('done');
    expect(await get(`chambers/n-prep-1/trend?${span}`)).toEqual(before);
    const again = await get(`chambers/n-prep-1/trend?${span}&recomputation=${task.id}`);
    expect(again.recomputation.calibrationVersions).toEqual([`${A}/1+${id}`]);
    // Pressure is current over sensitivity.
    expect(again.series.N2[0].value / before.series.N2[0].value).toBeCloseTo(7.5 / 6, 2);
  });

  test('is named by the readings of new scans, and by the ticket', async () => {
    const { body } = await world.ask('POST', '/api/v1/scans', { body: { scans: [scan(0, SCANS, HOLDS)] } });
    expect(body.accepted).toBe(1);
    await work();
    const [row] = await world.db.sql`select calibration_version from readings where scan_id = ${`s${SCANS}`}`;
    expect(row!.calibration_version).toMatch(new RegExp(`^${A}/1\\+cal-`));
  });
});
