import { expect, test } from 'vitest';
import { noteHelium } from '../../../shared/watch/heliumCheck.ts';
import type { Note } from '../../../shared/watch/relearn.ts';
import { draft, watched } from '../../support/world/frames.ts';

const chamber = watched(5);

function noted(state: string, pressurePa: number, detected = true): Note[] {
  const memory = draft(chamber);
  memory.state = state;
  memory.baselines.base!.gases = {
    He: { values: [-10_000], middle: -10_000, deviation: 20, detected: 9, scans: 10, strideSeconds: 0, keptAtMs: 0 },
  };
  const sigma = 0.05 * pressurePa;
  const helium: [number, number, number, number] = [pressurePa, 0.9 * pressurePa, 1.1 * pressurePa, sigma];
  if (!detected) helium[3] = -sigma;
  const row = { atMs: 0, gases: { He: helium } };
  memory.estimates = [row, row, row];
  const notes: Note[] = [];
  noteHelium(memory, notes);
  return notes;
}

test('helium is remembered in a leak check, and only there', () => {
  // Usually 1×10⁻¹⁰ Pa.
  expect(noted('leak-check', 1.2e-9)).toEqual([
    { code: 'helium-in-leak-check', text: 'Helium is 12 times the usual, 1.2×10⁻⁹\u00a0Pa: expected in a leak check.' },
  ]);
  expect(noted('base', 1.2e-9)).toEqual([]);
  expect(noted('leak-check', 1.5e-10)).toEqual([]);
  expect(noted('leak-check', 1.2e-9, false)).toEqual([]);
});
