import { describe, expect, test } from 'vitest';
import { priorityByMatrix as byServer } from '../../../shared/catalogue/rationalisation/matrix.ts';
import { CONSEQUENCES } from '../../../shared/contract/rationalisation.ts';
import { matrixSentence } from '../../../web/rationalisation/MatrixTable.tsx';
import { priorityByMatrix, SEVERITIES } from '../../../web/rationalisation/matrix.ts';

describe('the matrix', () => {
  test('is the one that the server judges by', () => {
    expect([...SEVERITIES].sort()).toEqual([...CONSEQUENCES].sort());
    for (const severity of CONSEQUENCES) {
      for (const minutes of [1, 29, 30, 31, 479, 480, 481, 1e5]) {
        expect(priorityByMatrix(severity, minutes)).toBe(byServer(severity, minutes));
      }
    }
  });

  test('says where severity and time meet and whether another priority is chosen', () => {
    expect(matrixSentence({ severity: 'severe', minutes: 10, chosen: 'high' })).toMatch(
      /the priority is high, as chosen/,
    );
    expect(matrixSentence({ severity: 'minor', minutes: 600, chosen: 'medium' })).toMatch(
      /\(minor, later\) the priority is low; medium is chosen, and “why” must give the reason/,
    );
    expect(matrixSentence({ severity: 'minor', minutes: null, chosen: 'low' })).toMatch(/no priority follows/);
  });
});
