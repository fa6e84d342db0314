/**
 * One record per signature, as ISA-18.2 / IEC 62682 ask for it (cause, consequence, response, time to respond, priority
 * from both; contents of a rationalisation record: public descriptions of the standards). That latching belongs to
 * conditions whose return must not end them, and re-alarm to what stands unattended: OPC 10000-9, annex on alarm terms.
 */

import { Value } from 'typebox/value';
import { describe, expect, test } from 'vitest';
import {
  ALWAYS,
  AT_REST,
  PUMP_DOWN,
  SCANS_EXPECTED,
  SPECTRUM_STATES,
} from '../../../shared/catalogue/rationalisation/armed.ts';
import { RE_ALARM, type Reasons } from '../../../shared/catalogue/rationalisation/entry.ts';
import {
  PRIORITY_MATRIX,
  PROMPT_MINUTES,
  priorityByMatrix,
  SHIFT_MINUTES,
} from '../../../shared/catalogue/rationalisation/matrix.ts';
import { MEASUREMENT_REASONS } from '../../../shared/catalogue/rationalisation/measurement.ts';
import { VACUUM_REASONS } from '../../../shared/catalogue/rationalisation/vacuum.ts';
import { BUILT_IN_RATIONALISATION, isAboutMeasurement } from '../../../shared/catalogue/rationalisation.ts';
import { PROCEDURES } from '../../../shared/catalogue/signatures/cautions.ts';
import { MEASUREMENT_SIGNATURES } from '../../../shared/catalogue/signatures/measurement.ts';
import { SIGNATURES_BY_ID } from '../../../shared/catalogue/signatures.ts';
import { CONSEQUENCES, RationalisationRecord } from '../../../shared/contract/rationalisation.ts';
import { OPERATING_STATES, PRIORITIES, SIGNATURES, type Signature } from '../../../shared/contract/words.ts';
import {
  DEAD_BAND_DECADES,
  INSTRUMENT_ON_DELAY,
  LEAST_SHARE,
  OFF_DELAY,
  ON_DELAY,
  WAIT_SCANS,
} from '../../../shared/watch/parameters.ts';
import { ARMED_STATES, LIMIT_STATES, SILENT_STATES } from '../../../shared/watch/states.ts';

const records = SIGNATURES.map((signature) => BUILT_IN_RATIONALISATION[signature]);
const RANK = { high: 0, medium: 1, low: 2 };

describe('the matrix', () => {
  test('never answers a worse consequence or a shorter time with a lower priority', () => {
    const times = [5, PROMPT_MINUTES, PROMPT_MINUTES + 1, SHIFT_MINUTES, SHIFT_MINUTES + 1, 10_000];
    for (const [i, severity] of CONSEQUENCES.entries())
      for (const [j, minutes] of times.entries()) {
        const here = RANK[priorityByMatrix(severity, minutes)];
        if (j > 0) expect(here).toBeGreaterThanOrEqual(RANK[priorityByMatrix(severity, times[j - 1] as number)]);
        const worse = CONSEQUENCES[i - 1];
        if (worse) expect(here).toBeGreaterThanOrEqual(RANK[priorityByMatrix(worse, minutes)]);
      }
    expect(Object.keys(PRIORITY_MATRIX)).toEqual([...CONSEQUENCES]);
  });

  test('holds the bounds within which a person can answer', () => {
    expect(priorityByMatrix('major', PROMPT_MINUTES)).toBe('high');
    expect(priorityByMatrix('major', PROMPT_MINUTES + 1)).toBe('medium');
    expect(priorityByMatrix('major', SHIFT_MINUTES)).toBe('medium');
    expect(priorityByMatrix('major', SHIFT_MINUTES + 1)).toBe('low');
  });

  test('few signatures are high, most are low (ISA-18.2: about 5, 15 and 80 per cent of annunciations)', () => {
    const share = (priority: string) =>
      records.filter(({ record }) => record.priority === priority).length / records.length;
    expect(share('high')).toBeLessThanOrEqual(0.1);
    expect(share('low')).toBeGreaterThan(share('medium'));
    expect(PRIORITIES.map(share).reduce((a, b) => a + b)).toBeCloseTo(1);
  });
});

describe('the built-in records', () => {
  test.each(records.map((record) => [record.signature, record] as const))('%s', (signature, { record, version }) => {
    expect(version).toBe(0);
    expect(Value.Check(RationalisationRecord, record)).toBe(true);
    const sheet = SIGNATURES_BY_ID[signature];
    expect(record.responseSteps).toEqual(sheet.firstSteps);
    expect(record.cautions).toContain(PROCEDURES);
    expect(record.priority).toBe(sheet.priority.usual);
    // The priority follows from the matrix, or the record says why not: the same rule as for those that people write.
    const matrix = priorityByMatrix(record.severity, record.timeToRespondMinutes);
    if (record.priority !== matrix) expect(record.basis).toContain(`Priority is ${record.priority}`);
    expect(isAboutMeasurement(signature)).toBe(signature in MEASUREMENT_SIGNATURES);
  });

  test('follow from the matrix, all of them', () => {
    const off = records.filter(
      ({ record }) => record.priority !== priorityByMatrix(record.severity, record.timeToRespondMinutes),
    );
    expect(off.map(({ signature }) => signature)).toEqual([]);
  });

  test('agree with the times that are common practice: air within minutes, oil within two hours, a blind chamber within four', () => {
    const minutes = (signature: Signature) => BUILT_IN_RATIONALISATION[signature].record.timeToRespondMinutes;
    expect(minutes('air-leak')).toBe(10);
    for (const film of ['hydrocarbon-oil', 'silicone', 'perfluoropolyether'] as const) expect(minutes(film)).toBe(120);
    for (const blind of ['silent', 'frozen', 'pump-down-late'] as const) expect(minutes(blind)).toBe(240);
  });

  test('latch where the gas fades and the harm stays, and say why', () => {
    const latching = records.filter(({ record }) => record.latching);
    expect(latching.map(({ signature }) => signature)).toEqual(['hydrocarbon-oil', 'perfluoropolyether', 'silicone']);
    for (const { record } of latching) expect(record.basis).toContain('Latches:');
  });

  test('ask again only for what may not be left standing: nothing that is low', () => {
    for (const { record } of records)
      if (record.reAlarmHours !== null) {
        expect(record.priority).not.toBe('low');
        expect(Object.values(RE_ALARM)).toContain(record.reAlarmHours);
      }
    const all: Reasons[] = Object.values({ ...VACUUM_REASONS, ...MEASUREMENT_REASONS });
    expect(all).toHaveLength(24);
  });

  test('are armed where the watch judges', () => {
    expect([...ARMED_STATES].sort()).toEqual([...SPECTRUM_STATES].sort());
    expect([...LIMIT_STATES].sort()).toEqual([...AT_REST].sort());
    expect(OPERATING_STATES.filter((state) => SILENT_STATES.has(state))).toEqual(
      OPERATING_STATES.filter((state) => !SCANS_EXPECTED.includes(state)),
    );
    for (const signature of Object.keys(MEASUREMENT_REASONS) as Signature[])
      expect(BUILT_IN_RATIONALISATION[signature].record.armedStates).toEqual(
        signature === 'silent' ? SCANS_EXPECTED : ALWAYS,
      );
    expect(PUMP_DOWN).toEqual(['roughing', 'pump-down', 'base']);
  });

  test('name the limits that the watch has', () => {
    const basis = (signature: Signature) => BUILT_IN_RATIONALISATION[signature].record.basis;
    expect([DEAD_BAND_DECADES, ON_DELAY, OFF_DELAY]).toEqual([0.1, 3, 5]);
    expect(basis('air-leak')).toMatch(/0\.1 decade .* three scans .* over after five scans/);
    expect([INSTRUMENT_ON_DELAY, WAIT_SCANS, LEAST_SHARE]).toEqual([8, 10, 2e-4]);
    expect(basis('mass-shift')).toContain('eight scans');
    expect(basis('unexplained-peaks')).toMatch(/ten scans, above 2×10⁻⁴/);
  });
});
