/** Gauss–Legendre nodes against polynomials, whose integrals are known; the equation against one solved by hand. */
import { describe, expect, test } from 'vitest';
import { gaussLegendre, solveForOnes } from '../../../../shared/analysis/sequential/integralEquation.ts';

describe('Gauss–Legendre quadrature', () => {
  test.each([2, 5, 20])('%d nodes are exact up to their degree', (size) => {
    const { nodes, weights } = gaussLegendre(size, -1, 3);
    for (let degree = 0; degree < 2 * size && degree < 12; degree++) {
      const sum = nodes.reduce((total, node, i) => total + weights[i]! * node ** degree, 0);
      const exact = (3 ** (degree + 1) - (-1) ** (degree + 1)) / (degree + 1);
      expect(sum / exact).toBeCloseTo(1, 11);
    }
  });

  test('two nodes lie at ±1/√3', () => {
    const { nodes, weights } = gaussLegendre(2, -1, 1);
    expect([...nodes]).toEqual([expect.closeTo(-1 / Math.sqrt(3), 14), expect.closeTo(1 / Math.sqrt(3), 14)]);
    expect([...weights]).toEqual([expect.closeTo(1, 14), expect.closeTo(1, 14)]);
  });
});

describe('the equation on the nodes', () => {
  test('a chain that stays in one of two states with the chances given: mean times by hand', () => {
    // x = 1 + 0.5 x + 0.25 y, y = 1 + 0.5 x: x = 10/3, y = 8/3.
    const [x, y] = solveForOnes(Float64Array.of(0.5, 0.25, 0.5, 0), 2);
    expect(x).toBeCloseTo(10 / 3, 12);
    expect(y).toBeCloseTo(8 / 3, 12);
  });

  test('rows are exchanged where the diagonal vanishes', () => {
    // I − K = [[0, 1], [1, 0]]: x = y = 1.
    expect([...solveForOnes(Float64Array.of(1, -1, -1, 1), 2)]).toEqual([1, 1]);
  });
});
