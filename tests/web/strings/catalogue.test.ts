// @vitest-environment jsdom
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { stretched } from '../../../web/strings/stretch.ts';

const SENTENCES = [
  'The fleet holds 3 chambers in one area.',
  'No token has been made yet. A gateway needs one to send scans.',
  'This is not JSON yet: it ends too soon',
];

describe('the made-up language', () => {
  test('is more than a third longer in every sentence and looks different', () => {
    for (const sentence of SENTENCES) {
      const letters = sentence.match(/\p{L}/gu)?.length ?? 0;
      expect(stretched(sentence).length - sentence.length).toBeGreaterThanOrEqual(0.35 * letters);
      expect(stretched(sentence)).not.toBe(sentence);
    }
  });

  test('leaves tags of rich text, units, formulae, numbers and addresses as they are', () => {
    const text = 'https://ullage.example/a <link/> 3.1×10⁻⁸\u00a0Pa H₂O 12\u00a0min';
    expect(stretched(text)).toBe(text);
    expect(stretched('<link>go</link>')).toMatch(/^<link>\S+<\/link>$/);
    expect(stretched('<link>go</link>')).not.toContain('>go<');
  });

  test('said twice, it is the same: a sentence may hold a word of the catalogue', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        expect(stretched(stretched(text))).toBe(stretched(text));
      }),
    );
    for (const sentence of SENTENCES) expect(stretched(stretched(sentence))).toBe(stretched(sentence));
  });
});

describe('the catalogue', () => {
  const written = {
    plain: 'Apply',
    said: (n: number) => `${n} chambers wait`,
    nested: { role: 'Role' },
    list: ['one', 'two'] as readonly string[],
  };
  beforeEach(() => vi.resetModules());
  afterEach(() => sessionStorage.clear());

  test('gives back its argument', async () => {
    const { catalogue } = await import('../../../web/strings/catalogue.ts');
    expect(catalogue(written)).toBe(written);
  });

  test('speaks the made-up language when the page was opened for testing', async () => {
    sessionStorage.setItem('ullage.words', 'stretched');
    const { catalogue } = await import('../../../web/strings/catalogue.ts');
    const words = catalogue(written);
    expect(words.plain).toBe(stretched('Apply'));
    expect(words.said(3)).toBe(stretched('3 chambers wait'));
    expect(words.nested.role).toBe(stretched('Role'));
    expect(words.list).toEqual([stretched('one'), stretched('two')]);
  });
});
