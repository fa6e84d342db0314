import { describe, expect, test } from 'vitest';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { makeDesign } from '../../../shared/analysis/design.ts';
import { makeFitter } from '../../../shared/analysis/fit.ts';
import { groupsOf, inseparable } from '../../../shared/analysis/groups.ts';
import { groupRemarks } from '../../../shared/analysis/inseparable.ts';
import { gasIntervals } from '../../../shared/analysis/intervals.ts';
import { ownScale } from '../../../shared/analysis/scaling.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';

/** Heights are sums of the catalogue's own columns, so the truth is known exactly. */
function groupsFor(masses: number[], truth: Record<string, number>, gases: string[] = []) {
  const design = makeDesign(gasColumns(catalogueFor(gases), masses), 'quadrupole');
  const heights = new Float64Array(masses.length);
  design.columns.slice(0, design.gasCount).forEach(({ id, rows, response }) => {
    rows.forEach((row, k) => {
      heights[row]! += (truth[id] ?? 0) * response[k]!;
    });
  });
  const fit = makeFitter(design).fit(heights, new Float64Array(masses.length).fill(1e-8));
  const scaling = ownScale(fit);
  const intervals = gasIntervals(fit, scaling);
  const groups = groupsOf(fit, intervals, scaling);
  const ids = groups.map(({ columns }) => columns.map((j) => design.columns[j]!.id));
  return { fit, scaling, intervals, groups, ids, of: (id: string) => design.columns.findIndex((one) => one.id === id) };
}

describe('gases of which only the sum is known', () => {
  test('N2 and CO on m/z 28 alone', () => {
    const { groups, ids, fit, scaling } = groupsFor([2, 18, 28, 32, 40, 44], { H2O: 1, N2: 0.1, CO: 0.1 });
    expect(ids).toEqual([['CO', 'N2']]);
    expect(groups[0]!.correlation).toBeLessThan(-0.99);
    expect(groups[0]!.low).toBeLessThan(0.2);
    expect(groups[0]!.high).toBeGreaterThan(0.2);
    // They have a sentence of their own.
    expect(groupRemarks(fit, groups, scaling)).toEqual([]);
  });

  test('ammonia and water when only m/z 17 shows them; the sentence names both and the sum', () => {
    const { ids, groups, fit, scaling } = groupsFor([2, 17, 28, 32, 40, 44], { H2O: 0.5, NH3: 0.1, N2: 0.1 });
    const found = groups.filter((_, i) => ids[i]!.includes('NH3'));
    for (const group of found) {
      const [remark] = groupRemarks(fit, [group], scaling);
      expect(remark!.code).toBe('cannot-separate');
      expect(remark!.text).toMatch(/NH3.*cannot be told apart.*go by the sum/);
    }
    // Water is not reported from m/z 17 alone, so there is nothing to group unless both are.
    expect(ids.flat()).not.toContain('H2O');
  });

  test('a sum that may be nothing is told by its upper end: zero is never written', () => {
    const { groups, fit, scaling } = groupsFor([2, 18, 28, 32, 40, 44], { H2O: 1, N2: 0.1, CO: 0.1 });
    const group = { ...groups[0]!, columns: [fit.design.columns.findIndex(({ id }) => id === 'H2O')] };
    const said = (low: number) => groupRemarks(fit, [{ ...group, low }], scaling)[0]!.text;
    expect(said(0)).toMatch(/\(at most \d\.\de[+-]\d+ Pa, and there may be nothing of them\)/);
    expect(said(0)).not.toMatch(/0\.0/);
    expect(said(group.sum / 2)).toMatch(/\(between /);
  });

  test('helium and deuterium share m/z 4', () => {
    const masses = [1, 2, 3, 4, 5, 18, 28, 40];
    const { ids, groups, fit, scaling } = groupsFor(masses, { H2: 0.2, He: 0.05, H2O: 1 }, ['D2']);
    expect(ids).toContainEqual(expect.arrayContaining(['He', 'D2']));
    const group = groups[ids.findIndex((one) => one.includes('D2'))]!;
    expect(group.correlation).toBeLessThan(-0.8);
    expect(groupRemarks(fit, groups, scaling)[0]!.text).toMatch(/He.*D2|D2.*He/);
  });

  test('gases with peaks of their own are told apart', () => {
    const masses = Array.from({ length: 60 }, (_, i) => i + 1);
    const { ids, fit, intervals, of } = groupsFor(masses, { H2O: 1, N2: 1, O2: 0.25, Ar: 0.01, H2: 0.1 });
    expect(ids.flat()).not.toContain('H2O');
    expect(inseparable(fit, intervals, of('H2O'), of('Ar'))).toBe(null);
    expect(inseparable(fit, intervals, of('H2O'), of('silicone'))).toBe(null);
  });
});
