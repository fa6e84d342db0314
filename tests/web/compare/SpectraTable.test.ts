import { expect, test } from 'vitest';
import { heightsOf } from '../../../web/compare/SpectraTable.tsx';
import { spectrum } from '../fixture/science.ts';

const whole = spectrum(0);
const [one] = whole.peaks;
const peak = (mass: number, value: number | null) => ({ ...(one as (typeof whole.peaks)[number]), mass, value });
const of = (floor: number | null, ...peaks: ReturnType<typeof peak>[]) => ({ ...whole, floor, peaks });

test('masses that stand above the floor of either scan, by mass', () => {
  const before = of(1e-10, peak(28, 4e-9), peak(2, 2e-7), peak(44, 5e-11));
  const after = of(2e-10, peak(2, 1e-7), peak(28, 1e-10), peak(44, null));
  expect(heightsOf(before, after)).toEqual([
    [2, { before: 2e-7, after: 1e-7 }],
    [28, { before: 4e-9, after: null }],
  ]);
});

test('a mass that one of the two does not have is not one that it does not see', () => {
  expect(heightsOf(of(null, peak(2, 1e-7)), of(null, peak(100, 1e-9)))).toEqual([
    [2, { before: 1e-7, after: undefined }],
    [100, { before: undefined, after: 1e-9 }],
  ]);
});
