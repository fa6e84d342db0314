import { expect, test } from 'vitest';
import { changeSays, sorted } from '../../../web/measurement/changes.ts';

const gas = (name: string, changePa: number, sigmaPa: number) => ({
  gas: name,
  changePa,
  sigmaPa,
  significant: Math.abs(changePa) > 3 * sigmaPa,
});

test('the surest change comes first, and what has not changed stands apart', () => {
  const gases = [gas('CO', 1e-10, 1e-9), gas('H2', -4e-9, 1e-9), gas('N2', 3e-8, 1e-9)];
  const { changed, still } = sorted({ before: '', after: '', gases });
  expect(changed.map((one) => one.gas)).toEqual(['N2', 'H2']);
  expect(still.map((one) => one.gas)).toEqual(['CO']);
});

test('a change has a sign and how sure it is: 1.96 standard deviations', () => {
  expect(changeSays(gas('N2', 3.1e-8, 1e-9), 'Pa')).toBe('+3.1×10⁻⁸\u00a0Pa, give or take 2.0×10⁻⁹\u00a0Pa');
  expect(changeSays(gas('H2', -4e-9, 1e-9), 'mbar')).toBe('−4.0×10⁻¹¹\u00a0mbar, give or take 2.0×10⁻¹¹\u00a0mbar');
});
