import { describe, expect, test } from 'vitest';
import { explainPeaks } from '../../../shared/analysis/explain.ts';
import { type FoundGases, foundGases } from '../../../shared/analysis/findings.ts';
import { NOTHING_KNOWN } from '../../../shared/analysis/instrument/known.ts';
import { makePrepare } from '../../../shared/analysis/prepare.ts';
import { ownScale } from '../../../shared/analysis/scaling.ts';
import type { Calibration, InstrumentView } from '../../../shared/analysis/types.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';

const MASSES = Array.from({ length: 100 }, (_, i) => i + 1);
const CALIBRATION: Calibration = {
  analyser: 'made-up',
  principle: 'quadrupole',
  massRange: null,
  sensitivityAmperesPerPascal: null,
  multiplierGain: null,
  transmissionExponent: 0,
  version: '1',
};

/** Heights are sums of the catalogue's own columns. */
function findings(
  truth: Record<string, number>,
  changes: { calibration?: Partial<Calibration>; lookAlikes?: InstrumentView['lookAlikes']; gaugePa?: number } = {},
): FoundGases {
  const prepared = makePrepare({ ...CALIBRATION, ...changes.calibration }, catalogueFor([]))(MASSES, []);
  const { design } = prepared.fitter;
  const heights = new Float64Array(MASSES.length);
  for (const { id, rows, response } of design.columns.slice(0, design.gasCount)) {
    rows.forEach((row, k) => {
      heights[row]! += (truth[id] ?? 0) * response[k]!;
    });
  }
  const fit = prepared.fitter.fit(heights, new Float64Array(MASSES.length).fill(1e-10));
  return foundGases({
    fit,
    prepared,
    scaling: ownScale(fit),
    explanation: explainPeaks(fit, 1),
    gauge: changes.gaugePa === undefined ? { kind: 'missing' } : { kind: 'reading', pressurePa: changes.gaugePa },
    relative: false,
    known: { ...NOTHING_KNOWN, lookAlikes: changes.lookAlikes ?? [] },
  });
}

const WET = { H2O: 1, H2: 0.2, N2: 0.3, O2: 0.07, CO2: 0.05, Ar: 0.004 };
const codes = ({ notes }: FoundGases) => notes.map(({ code }) => code);

describe('what a fit says', () => {
  test('every gas of the chamber has an estimate, and the gauge is asked', () => {
    const found = findings(WET);
    expect(found.gases.map(({ gas }) => gas)).toEqual(expect.arrayContaining(['H2O', 'He', 'silicone']));
    expect(found.gases.find(({ gas }) => gas === 'H2O')!.detected).toBe(true);
    expect(codes(found)).toContain('no-gauge');
    expect(codes(findings(WET, { gaugePa: 0.01 }))).toContain('above-gauge');
    expect(found.ownGas).toEqual([]);
  });

  test('a gas that has long kept in step with another one may be a fragment; one that is not seen needs no such word', () => {
    const neon = { gas: 'Ne', parent: 'H2O', ratio: 0.02, scans: 90 };
    const seen = findings({ ...WET, Ne: 0.02 }, { lookAlikes: [neon] });
    expect(seen.gases.find(({ gas }) => gas === 'Ne')!.detected).toBe(true);
    const remark = seen.notes.find(({ code }) => code === 'may-be-a-fragment')!;
    expect(remark.text).toMatch(/Ne with H2O \(90 scans\)/);
    expect(codes(findings(WET, { lookAlikes: [neon] }))).not.toContain('may-be-a-fragment');
    expect(codes(findings({ ...WET, Ne: 0.02 }))).not.toContain('may-be-a-fragment');
  });

  test("a recorded background gives the analyser's share of each gas", () => {
    const background = { peaks: { 44: { heightPa: 0.04, sigmaPa: 1e-4 } }, unsteadiness: 0.1 };
    const share = findings(WET, { calibration: { background } }).ownGas.find(({ gas }) => gas === 'CO2')!.share;
    expect(share).toBeGreaterThan(0.2);
    expect(share).toBeLessThan(0.6);
  });
});
