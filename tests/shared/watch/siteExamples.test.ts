/**
 * Closed cases of the site beside the catalogue. The unknown vapour is made up; patterns of acetone and isopropanol by
 * their handbook peaks (NIST WebBook: acetone 43 100, 58 64, 15 23; isopropanol 45 100, 43 19, 27 16).
 */
import { describe, expect, test } from 'vitest';
import { causesOf } from '../../../shared/watch/causes.ts';
import { faultOf, isUsable, withExamples } from '../../../shared/watch/exampleVariants.ts';
import { groundOf, nameBest } from '../../../shared/watch/ranking.ts';
import { nameExample } from '../../../shared/watch/siteExamples.ts';
import type { SiteExample } from '../../../shared/watch/types.ts';
import { frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const masses = Array.from({ length: 100 }, (_, i) => i + 1);

function example(
  id: string,
  signature: SiteExample['signature'],
  gases: string[],
  heights: Record<number, number>,
): SiteExample {
  return {
    id,
    signature,
    gases,
    masses,
    changePa: masses.map((mass) => heights[mass] ?? 0),
    sigmaPa: masses.map(() => 2e-12),
    gaugeChangePa: null,
  };
}

/** A cleaning mixture that no record of the catalogue has. */
const mixture = (scale: number) => ({ 62: 5e-9 * scale, 74: 4e-9 * scale, 33: 3e-9 * scale });
const closed = example('case-1', 'solvent', ['mixture of the workshop'], mixture(2));
const acetone = example('case-2', 'solvent', ['acetone'], { 43: 4e-9, 58: 1.4e-9, 15: 1.2e-9, 42: 2.8e-10, 27: 3e-10 });
const isopropanol = example('case-3', 'solvent', ['isopropanol'], {
  45: 4e-9,
  43: 7e-10,
  27: 6e-10,
  29: 4e-10,
  41: 3e-10,
});

describe('what the site has seen', () => {
  const named = (examples: readonly SiteExample[]) => {
    const frame = frameOf(chamber, mixture(1));
    const seen = { ...frame, context: { ...frame.context, examples } };
    return nameBest(seen, { change: frame.middle, lane: 'scan', fall: false, step: null }).candidates[0]!;
  };

  test('is named where the catalogue has no name', () => {
    expect(named([]).cause.gases).not.toContain('mixture of the workshop');
    expect(named([closed])).toMatchObject({ cause: { signature: 'solvent' }, variant: { example: 'case-1' } });
    expect(named([closed]).variant.gases).toEqual(['mixture of the workshop']);
  });

  test('joins the cause that it is a case of, once for the same lists', () => {
    const causes = causesOf(chamber.context, masses);
    const examples = [closed, acetone];
    const joined = withExamples(causes, examples, masses);
    expect(withExamples(causes, examples, masses)).toBe(joined);
    expect(joined).toHaveLength(causes.length + 1);
    const count = (list: typeof joined) => list.find(({ id }) => id === 'acetone')!.variants.length;
    expect(count(joined)).toBe(count(causes) + 1);
    expect(withExamples(causes, [], masses)).toBe(causes);
  });

  test('takes no part where the chamber does not scan what was seen, or where all gases move', () => {
    const causes = causesOf(chamber.context, masses);
    expect(withExamples(causes, [{ ...closed, masses: masses.map((m) => m + 200) }], masses)).toHaveLength(
      causes.length,
    );
    expect(withExamples(causes, [{ ...closed, signature: 'pumping-loss' }], masses)).toHaveLength(causes.length);
    const unusable = { ...closed, sigmaPa: [1] };
    expect(isUsable(unusable)).toBe(false);
    expect(withExamples(causes, [unusable], masses)).toHaveLength(causes.length);
  });

  test('rests on the examples of the context', () => {
    const frame = frameOf(chamber, {});
    expect(groundOf({ ...frame, context: { ...frame.context, examples: [closed] } }).examples).toEqual([closed]);
  });
});

describe('a closed case without itself', () => {
  const settings = { chamber: chamber.context.chamber };

  test('is named by the catalogue', () => {
    const naming = nameExample(acetone, settings);
    expect(naming).toMatchObject({ right: true, rightInTwo: true });
    expect(naming.names[0]).toMatchObject({ signature: 'solvent', gases: ['acetone'] });
    expect(naming.names.reduce((sum, { odds }) => sum + odds, 0)).toBeCloseTo(1, 9);
    expect(nameExample(isopropanol, settings).names[0]!.gases).toEqual(['isopropanol']);
  });

  test('is not named by itself, but by another case like it', () => {
    const alone = nameExample(closed, { ...settings, others: [closed] });
    expect(alone.right).toBe(false);
    expect(alone).toMatchObject({ sureness: 'cannot tell' });
    expect(alone.names[0]!.signature).toBe('unexplained-peaks');
    const other = example('case-9', 'solvent', ['mixture of the workshop'], mixture(0.5));
    expect(nameExample(closed, { ...settings, others: [closed, other] }).right).toBe(true);
  });

  test('competes with pumps and gain where what was usual is known', () => {
    const usual = { 2: 4e-8, 18: 3e-8, 17: 7e-9, 16: 1e-9, 28: 8e-9, 12: 5e-10, 44: 2e-9, 15: 1e-9, 14: 4e-10 };
    const usualPa = masses.map((mass) => (usual as Record<number, number>)[mass] ?? 0);
    const doubled = { ...example('p', 'pumping-loss', [], usual), gaugeChangePa: 5e-8 };
    expect(nameExample({ ...doubled, usualPa }, settings)).toMatchObject({ right: true });
    const without = nameExample(doubled, settings);
    expect(without.names.some(({ signature }) => signature === 'pumping-loss')).toBe(false);
  });

  test('is refused by field and reason when its lists do not fit', () => {
    expect(() => nameExample({ ...acetone, sigmaPa: [1] }, settings)).toThrow(
      /case-2: sigmaPa: 1 values for 100 masses/,
    );
    expect(() => nameExample({ ...acetone, usualPa: [1] }, settings)).toThrow(/usualPa/);
    expect(faultOf({ ...acetone, masses: [...masses].reverse() })).toContain('masses');
    expect(faultOf({ ...acetone, sigmaPa: masses.map(() => 0) })).toContain('above 0');
    expect(faultOf({ ...acetone, changePa: masses.map(() => Number.NaN) })).toContain('changePa');
  });
});
