/** Assembly by scatter and the variances, against plain loops over a dense matrix. */
import { describe, expect, test } from 'vitest';
import { artefacts, footCanBeFitted } from '../../../shared/analysis/artefacts.ts';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { makeDesign } from '../../../shared/analysis/design.ts';
import { modelVariance } from '../../../shared/analysis/modelVariance.ts';
import { assemble, planAssembly } from '../../../shared/analysis/normalEquations.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { seededRandom } from '../../support/instrument.ts';

const masses = Array.from({ length: 100 }, (_, i) => i + 1);
const design = makeDesign(gasColumns(catalogueFor([]), masses), 'quadrupole');
const dense = design.columns.map((column) => {
  const out = new Float64Array(masses.length);
  column.rows.forEach((row, k) => {
    out[row] = column.response[k]!;
  });
  return out;
});

test('rows and columns of the design hold the same entries', () => {
  masses.forEach((_, row) => {
    for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
      expect(dense[design.entryColumn[e]!]![row]).toBe(design.entryResponse[e]);
    }
  });
  expect(design.entryColumn.length).toBe(dense.flatMap((column) => Array.from(column)).filter((a) => a > 0).length);
});

test('the normal equations of a subset are BᵀWB and BᵀWy', () => {
  const random = seededRandom(1);
  const active = Int32Array.of(0, 2, 4, 5, 9, 20, design.columns.length - 1);
  const heights = Float64Array.from(masses, () => random.uniform());
  const variance = Float64Array.from(masses, () => random.decades(1e-8, 1));
  const size = active.length;
  const hessian = new Float64Array(size * size);
  const gradient = new Float64Array(size);
  assemble(planAssembly(design, active), { heights, variance }, hessian, gradient);
  for (let i = 0; i < size; i++) {
    const a = dense[active[i]!]!;
    const g = masses.reduce((sum, _, m) => sum + (a[m]! * heights[m]!) / variance[m]!, 0);
    expect(gradient[i]! / g).toBeCloseTo(1, 12);
    for (let k = 0; k <= i; k++) {
      const b = dense[active[k]!]!;
      const h = masses.reduce((sum, _, m) => sum + (a[m]! * b[m]!) / variance[m]!, 0);
      expect(hessian[i * size + k]).toBeCloseTo(h, 6);
    }
  }
});

test('the model error belongs to contributions: v = noise + Σ (r a x)², and what records of organics omit', () => {
  const amounts = new Float64Array(design.columns.length);
  const of = (id: string) => design.columns.findIndex((column) => column.id === id);
  amounts[of('H2O')] = 2;
  amounts[of('acetone')] = 0.5;
  const noise = Float64Array.from(masses, () => 1e-6);
  const out = new Float64Array(masses.length);
  modelVariance(design, amounts, noise, out, new Float64Array(masses.length));
  masses.forEach((_, row) => {
    let expected = 1e-6;
    for (const id of ['H2O', 'acetone']) {
      const column = design.columns[of(id)]!;
      const x = amounts[of(id)]!;
      column.rows.forEach((r, k) => {
        if (r === row) expected += (column.relativeError[k]! * column.response[k]! * x) ** 2;
      });
      if (column.omittedShare > 0 && row <= column.lastRow)
        expected += (column.omittedShare * column.peakResponse * x) ** 2;
    }
    expect(out[row]! / expected).toBeCloseTo(1, 12);
  });
});

describe('signals of the analyser itself', () => {
  test('an ion trap has neither foot nor desorbed ions', () => {
    expect(artefacts(masses, 'ion trap').map(({ column }) => column.id)).toEqual(['zero']);
  });

  test('a foot is fitted only where a mass shows nothing else', () => {
    expect(footCanBeFitted([2, 4, 18, 28])).toBe(false);
    expect(footCanBeFitted([2, 3, 4])).toBe(true);
    expect(artefacts([2, 4, 18, 28], 'quadrupole')).toEqual([]);
  });

  test('the zero may be of either sign, the rest not', () => {
    const free = artefacts(masses, 'quadrupole').filter((artefact) => artefact.free);
    expect(free.map(({ column }) => column.id)).toEqual(['zero']);
  });
});
