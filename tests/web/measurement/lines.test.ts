import { describe, expect, test } from 'vitest';
import type { MeasurementLine } from '../../../shared/contract/measurement.ts';
import { byArea, listSentence, wanted } from '../../../web/measurement/lines.ts';
import { line } from '../fixture/lines.ts';
import { measurementLine } from '../fixture/measurement.ts';

const NOW = Date.UTC(2026, 10, 25, 6);
const one = (name: string, told: Partial<MeasurementLine> = {}): MeasurementLine => {
  const chamber = line(NOW, { name });
  return { ...measurementLine(NOW, chamber, `${chamber.id}-x`), ...told };
};
const never = () => false;

describe('the sentence of the list', () => {
  test('says how many need a look', () => {
    const bad = { remark: 'It has lost gain.' };
    const many = Array.from({ length: 19 }, (_, i) => one(`Store ${i}`));
    expect(listSentence([one('A', bad), one('B', bad), ...many], never)).toBe(
      'Two of 21 analysers need a look before you trust them.',
    );
    expect(listSentence([one('A', bad), one('B')], never)).toBe('One of 2 analysers needs a look before you trust it.');
  });

  test('never calls well what it cannot see', () => {
    const unseen = one('A', { at: null });
    expect(listSentence([], never)).toBe('No analyser is in the fleet yet.');
    expect(listSentence([unseen], never)).toMatch(/^Nothing can be said yet/);
    expect(listSentence([one('B'), unseen], never)).toBe(
      'Nothing speaks against one of the 2 analysers. One has sent no scan yet.',
    );
    expect(listSentence([one('B')], () => true)).toBe(
      'How the analysers measure now cannot be told. One has been silent for a while.',
    );
  });
});

describe('the rows', () => {
  test('those with a remark stand first in their area; areas keep the order of the round', () => {
    const groups = byArea(
      [one('B', { area: 'bay' }), one('Store 10'), one('Store 2'), one('Z', { remark: 'look' })],
      ['beamline', 'bay'],
    );
    expect(groups.map(({ area, lines }) => [area, lines.map(({ chamberName }) => chamberName)])).toEqual([
      ['beamline', ['Z', 'Store 2', 'Store 10']],
      ['bay', ['B']],
    ]);
  });

  test('are found by area, by words, and by whether they need a look', () => {
    const all = [one('Slits', { remark: 'It has lost gain.' }), one('Store', { area: 'bay' })];
    const names = (address: Parameters<typeof wanted>[1]) => wanted(all, address).map(({ chamberName }) => chamberName);
    expect(names({ find: '', area: '', show: 'all' })).toEqual(['Slits', 'Store']);
    expect(names({ find: '', area: 'bay', show: 'all' })).toEqual(['Store']);
    expect(names({ find: '', area: '', show: 'with-remark' })).toEqual(['Slits']);
    expect(names({ find: 'lost GAIN', area: '', show: 'all' })).toEqual(['Slits']);
  });
});
