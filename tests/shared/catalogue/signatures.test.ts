/**
 * Every signature of the catalogue names a story that must fire and a near miss that must not; both are run here, each
 * on three chambers whose fragment patterns differ from the catalogue by 10–30 %. A new signature is found by itself.
 */
import { describe, expect, test } from 'vitest';
import { PROCEDURES } from '../../../shared/catalogue/signatures/cautions.ts';
import type { SignatureEntry } from '../../../shared/catalogue/signatures/entry.ts';
import { MEASUREMENT_SIGNATURES } from '../../../shared/catalogue/signatures/measurement.ts';
import { VACUUM_SIGNATURES } from '../../../shared/catalogue/signatures/vacuum.ts';
import { SIGNATURE_LIST } from '../../../shared/catalogue/signatures.ts';
import { SIGNATURES } from '../../../shared/contract/words.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { raisedOf, runWorld } from '../../support/world/run.ts';
import { SCENARIOS } from '../../support/world/scenarios.ts';

const SEEDS = [9001, 9002, 9003];

const known = new Map<string, string[]>();

/** Signatures that were raised; a story that several signatures name is run once. */
function raisedIn(name: string, seed: number): string[] {
  const key = `${name}/${seed}`;
  const raised = known.get(key) ?? runScenario(name, seed);
  known.set(key, raised);
  return raised;
}

function runScenario(name: string, seed: number): string[] {
  const scenario = SCENARIOS[name];
  if (!scenario) throw new Error(`no scenario is called "${name}"`);
  const world = makeWorld(seed, scenario.world);
  const run = runWorld(world, scenario.options(world), { limits: scenario.limits?.(world) ?? [] });
  return raisedOf(run).map(({ event }) => event.signature);
}

/** Silence is judged by the clock, not by scans: see silence.test.ts. */
const BY_CLOCK = new Set(['silent']);
const judged = SIGNATURE_LIST.filter(({ id, example }) => example !== null && !BY_CLOCK.has(id));

describe('the catalogue of signatures', () => {
  test('has one entry for every signature of the contract', () => {
    expect(SIGNATURE_LIST.map(({ id }) => id).sort()).toEqual([...SIGNATURES].sort());
  });

  test('tells what is about the vacuum from what is about the measurement', () => {
    const both: Record<string, SignatureEntry>[] = [VACUUM_SIGNATURES, MEASUREMENT_SIGNATURES];
    expect(both.map((entries) => Object.keys(entries).length)).toEqual([16, 8]);
    expect(Object.keys(MEASUREMENT_SIGNATURES)).toContain('frozen');
  });

  test.each(SIGNATURE_LIST.map((entry) => [entry.id, entry] as const))(
    '%s says what to do, and to be careful',
    (_id, entry) => {
      expect(entry.firstSteps[0]).toMatch(/^First /);
      expect(PROCEDURES).toContain('never bypass an interlock');
      expect(entry.cautions).toContain(PROCEDURES);
      expect(entry.settles).toMatch(/\.$/);
    },
  );

  test.each(judged.map(({ id, example }) => [id, example as string] as const))('%s fires on: %s', (id, name) => {
    for (const seed of SEEDS) expect(raisedIn(name, seed), `seed ${seed}`).toContain(id);
  });

  test.each(judged.map(({ id, nearMiss }) => [id, nearMiss as string] as const))(
    '%s stays silent on: %s',
    (id, name) => {
      for (const seed of SEEDS) expect(raisedIn(name, seed), `seed ${seed}`).not.toContain(id);
    },
  );
});
