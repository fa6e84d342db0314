import { describe, expect, test } from 'vitest';
import { allowOmitted, type Left } from '../../../shared/watch/omitted.ts';

describe('small peaks that the records leave out', () => {
  const rest = Float64Array.of(0, 5, 1, 5, -5, 50);
  const variance = Float64Array.of(1, 1, 1, 1, 1, 1);
  const dense = Float64Array.of(0, 1, 0, 0, 0, 0);
  const left = { rest, variance, dense, isOwn: false, amplitude: 1, letIn: null };
  const allowed = (given: Partial<Left>) => {
    const omitted = new Float64Array(rest.length);
    allowOmitted(omitted, { ...left, ...given }, 10);
    return [...omitted];
  };

  test('are allowed where they are beyond noise and below the most, at their own size', () => {
    expect(allowed({})).toEqual([0, 25, 0, 25, 25, 0]);
  });

  test('of the background only where none of its gases has a peak', () => {
    expect(allowed({ isOwn: true })).toEqual([0, 0, 0, 25, 25, 0]);
  });

  test('while gas flows, the background cannot grow where it had nothing', () => {
    // Three times what one per cent more makes of 4 and of 400.
    const letIn = Float64Array.of(0, 1e6, 0, 4, 400, 0);
    expect(allowed({ isOwn: true, amplitude: 0.01, letIn })).toEqual([0, 0, 0, 0, 25, 0]);
    expect(allowed({ letIn })).toEqual([0, 25, 0, 25, 25, 0]);
  });
});
