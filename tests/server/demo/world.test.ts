import { readdirSync, readFileSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Value } from 'typebox/value';
import { describe, expect, it } from 'vitest';
import { exampleFleet } from '../../../server/demo/fleet.ts';
import { INSTRUMENTS } from '../../../server/demo/instruments.ts';
import { makeWorld } from '../../../server/demo/world.ts';
import { FleetDocument } from '../../../shared/contract/fleet.ts';
import { Scan } from '../../../shared/contract/scans.ts';
import { LEAST_SISTERS } from '../../../shared/measurement/sisters.ts';
import { toPascal } from '../../../shared/units.ts';

const HOUR_MS = 3_600_000;
const ANCHOR_MS = Date.UTC(2031, 0, 8, 6, 0);

const scansOf = (afterHours: number, untilHours: number, anchorMs = ANCHOR_MS) => [
  ...makeWorld(anchorMs).scans({
    afterMs: ANCHOR_MS + afterHours * HOUR_MS,
    untilMs: ANCHOR_MS + untilHours * HOUR_MS,
    fullFromMs: ANCHOR_MS - 4 * HOUR_MS,
  }),
];

describe('the fleet', () => {
  const fleet = exampleFleet();

  it('is a document of the contract', () => {
    expect([...Value.Errors(FleetDocument, fleet)]).toEqual([]);
  });

  it('has what the example promises', () => {
    expect(fleet.areas).toHaveLength(2);
    expect(fleet.chambers.length).toBeGreaterThanOrEqual(16);
    expect(new Set(fleet.chambers.map(({ kind }) => kind)).size).toBeGreaterThanOrEqual(6);
    expect(new Set(fleet.analysers.map(({ principle }) => principle))).toEqual(new Set(['quadrupole', 'ion trap']));
    for (const chamber of fleet.chambers) {
      expect(chamber.volumeLitres).toBeGreaterThan(0);
      expect(Object.keys(chamber.pumpingSpeedLitresPerSecond ?? {})).toContain('Ar');
      expect(fleet.analysers.some((analyser) => analyser.chamber === chamber.id)).toBe(true);
    }
  });

  it('has a kind with enough sisters for a middle, the leaking chamber among them, all in base', () => {
    const world = makeWorld(ANCHOR_MS);
    const inBase = fleet.chambers.filter(({ id }) => world.chambers.get(id)?.momentAt(ANCHOR_MS).state === 'base');
    const kind = fleet.chambers.find(({ id }) => id === 'heron-sample')?.kind;
    expect(inBase.filter((one) => one.kind === kind).length).toBeGreaterThan(LEAST_SISTERS);
  });

  it('names each thing once and only what exists', () => {
    const ids = [...fleet.areas, ...fleet.chambers, ...fleet.analysers].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(new Set(fleet.chambers.map(({ name }) => name)).size).toBe(fleet.chambers.length);
    const areas = new Set(fleet.areas.map(({ id }) => id));
    expect(fleet.chambers.filter(({ area }) => !areas.has(area))).toEqual([]);
  });
});

describe('scans', () => {
  it('are scans of the contract, in time order, one per analyser and minute', () => {
    const scans = scansOf(-1, -0.5);
    expect(scans.length).toBe(30 * (INSTRUMENTS.length - 1));
    let before = '';
    for (const scan of scans) {
      expect([...Value.Errors(Scan, scan)]).toEqual([]);
      const masses = scan.masses as { first: number; last: number; perUnit: number };
      expect(scan.values).toHaveLength((masses.last - masses.first) * masses.perUnit + 1);
      expect(scan.values.every((value) => Number.isFinite(value))).toBe(true);
      expect(scan.at > before).toBe(true);
      before = scan.at;
      if (scan.unit === '1') expect(scan.totalPressure).toBeDefined();
    }
    expect(new Set(scans.map(({ id }) => id)).size).toBe(scans.length);
  });

  it('are the same whoever asks, however the question is cut', () => {
    const whole = scansOf(-2.5, -1.5);
    const cut = [...scansOf(-2.5, -2.1), ...scansOf(-2.1, -1.5)];
    expect(cut).toEqual(whole);
  });

  it('thin out in the archive to a part of the full record', () => {
    const world = makeWorld(ANCHOR_MS);
    const stretch = { afterMs: ANCHOR_MS - 30 * HOUR_MS, untilMs: ANCHOR_MS - 29 * HOUR_MS };
    const thin = [...world.scans({ ...stretch, fullFromMs: ANCHOR_MS })];
    const full = [...world.scans({ ...stretch, fullFromMs: 0 })];
    expect(full.length).toBe(15 * thin.length);
    const byId = new Map(full.map((scan) => [scan.id, scan]));
    for (const scan of thin) expect(byId.get(scan.id)).toEqual(scan);
  });

  it('come in the units that the example promises', () => {
    const units = new Set(scansOf(-0.1, 0).map(({ unit }) => unit));
    for (const unit of ['A', 'mbar', 'Torr', '1']) expect(units).toContain(unit);
  });
});

describe('stories', () => {
  const gaugePa = (chamber: string, hours: number) =>
    makeWorld(ANCHOR_MS)
      .chambers.get(chamber)
      ?.momentAt(ANCHOR_MS + hours * HOUR_MS).gaugePa ?? Number.NaN;
  const partialPa = (chamber: string, hours: number) => {
    const moment = makeWorld(ANCHOR_MS)
      .chambers.get(chamber)
      ?.momentAt(ANCHOR_MS + hours * HOUR_MS);
    if (!moment) throw new Error(`no chamber ${chamber}`);
    return moment.partialPa;
  };

  it('raise the gauge with the leak, and argon, nitrogen and oxygen together', () => {
    const before = partialPa('heron-sample', -3.6);
    const after = partialPa('heron-sample', 0);
    const nitrogen = after.N2 - before.N2;
    const argon = after.Ar - before.Ar;
    const oxygen = after.O2 - before.O2;
    // Air: 0.0120 and 0.268 of the nitrogen; speeds of the gases differ by some tens of per cent.
    expect(argon / nitrogen).toBeGreaterThan(0.009);
    expect(argon / nitrogen).toBeLessThan(0.018);
    expect(oxygen / nitrogen).toBeGreaterThan(0.2);
    expect(oxygen / nitrogen).toBeLessThan(0.36);
    expect(gaugePa('heron-sample', 0) - gaugePa('heron-sample', -3.6)).toBeGreaterThan(0.5 * nitrogen);
    expect(gaugePa('heron-sample', 1)).toBeGreaterThan(1.2 * gaugePa('heron-sample', 0));
  });

  it('let nitrogen alone in through the purge valve', () => {
    const before = partialPa('east-etch-north', -21);
    const after = partialPa('east-etch-north', -10);
    expect(after.N2 / before.N2).toBeGreaterThan(5);
    for (const gas of ['Ar', 'O2', 'CO'] as const) {
      expect(after[gas] / before[gas]).toBeGreaterThan(0.85);
      expect(after[gas] / before[gas]).toBeLessThan(1.15);
    }
  });

  it('bring oil after the roughing and not before, and never without the vent', () => {
    expect(partialPa('east-evap', -3).oil).toBe(0);
    expect(partialPa('east-evap', -1).oil).toBeGreaterThan(0);
    expect(partialPa('east-evap', 0).oil).toBeLessThan(partialPa('east-evap', -1).oil);
    const states = scansOf(-2.6, 0)
      .filter(({ analyser }) => analyser === 'east-evap-a')
      .map(({ state }) => state);
    expect([...new Set(states)]).toEqual(['vented', 'roughing', 'pump-down', 'base']);
  });

  it('dry the annealer as 1/t above what seals let through', () => {
    const water = (hours: number) => partialPa('east-anneal', hours).H2O;
    const usual = water(-40);
    const slope = Math.log((water(-1) - usual) / (water(-14) - usual)) / Math.log((26.2 - 1) / (26.2 - 14));
    expect(slope).toBeGreaterThan(-1.3);
    expect(slope).toBeLessThan(-0.7);
  });

  it('take the gain away while the gauge stands still', () => {
    const world = makeWorld(ANCHOR_MS);
    const own = (hours: number) =>
      [
        ...world.scans({
          afterMs: ANCHOR_MS + hours * HOUR_MS,
          untilMs: ANCHOR_MS + (hours + 0.5) * HOUR_MS,
          fullFromMs: 0,
        }),
      ].filter(({ analyser }) => analyser === 'heron-mirror-1-a');
    const look = (hours: number) => {
      const scans = own(hours);
      const sum = scans.reduce((total, { values }) => total + values.reduce((all: number, v) => all + (v ?? 0), 0), 0);
      const gauge = scans.reduce(
        (total, { totalPressure: total_ }) => total + (total_ ? toPascal(total_.value, total_.unit) : Number.NaN),
        0,
      );
      return { signal: sum / scans.length, gaugePa: gauge / scans.length };
    };
    const before = look(-50);
    const after = look(-1);
    expect(after.signal / before.signal).toBeLessThan(0.6);
    expect(after.gaugePa / before.gaugePa).toBeGreaterThan(0.8);
    expect(after.gaugePa / before.gaugePa).toBeLessThan(1.25);
  });

  it('leave the slit without a scan for six hours', () => {
    const times = scansOf(-8, 0)
      .filter(({ analyser }) => analyser === 'heron-slit-a')
      .map(({ at }) => Date.parse(at));
    expect(Math.max(...times)).toBeLessThan(ANCHOR_MS - 6 * HOUR_MS);
    expect(Math.max(...times)).toBeGreaterThan(ANCHOR_MS - 6.5 * HOUR_MS);
  });

  it('spray helium only while the leak check is declared', () => {
    const scans = scansOf(-0.66, 0).filter(({ analyser }) => analyser === 'east-hub-a');
    expect(new Set(scans.map(({ state }) => state))).toEqual(new Set(['leak-check']));
    expect(partialPa('east-hub', -0.1).He / partialPa('east-hub', -2).He).toBeGreaterThan(20);
    // When the check ends the helium of the last spray has gone.
    expect(partialPa('east-hub', 0.85).He / partialPa('east-hub', -2).He).toBeLessThan(1.5);
  });

  it('are all told of chambers and analysers of the fleet', () => {
    const fleet = exampleFleet();
    for (const { chamber, analyser } of makeWorld(ANCHOR_MS).stories) {
      expect(fleet.chambers.some(({ id }) => id === chamber)).toBe(true);
      if (analyser) expect(fleet.analysers.find(({ id }) => id === analyser)?.chamber).toBe(chamber);
    }
  });
});

describe('the example keeps apart from what it is there to try', () => {
  it('imports types of the contract, the units and nothing else of the house', () => {
    const house = fileURLToPath(new URL('../../../', import.meta.url));
    const room = `${house}server/demo/`;
    const files = readdirSync(room, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));
    expect(files.length).toBeGreaterThan(10);
    for (const file of files) {
      const text = readFileSync(`${room}${file}`, 'utf8');
      for (const [line, typeOnly, path] of text.matchAll(/import (type )?[^;]*?from '([^']+)';|import\('([^']+)'\)/g)) {
        if (path?.startsWith('node:')) continue;
        const target = relative(house, resolve(room, dirname(file), path ?? ''));
        const contractType = target.startsWith('shared/contract/') && typeOnly !== undefined;
        const allowed = target.startsWith('server/demo/') || target === 'shared/units.ts' || contractType;
        expect(allowed, `${file}: ${line}`).toBe(true);
      }
    }
  });
});
