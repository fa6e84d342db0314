/**
 * The colours of the page keep their contrast, computed from what tokens.css says.
 * OKLCH to linear sRGB: B. Ottosson, "A perceptual color space for image processing" (2020), as in CSS Color 4,
 * sample code for OKLab; coefficients from memory, checked below with the primaries of sRGB. Contrast: WCAG 2.2,
 * relative luminance and 1.4.3 (text 4.5), 1.4.11 (signs 3).
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

type Rgb = readonly [number, number, number];
const css = readFileSync(resolve(import.meta.dirname, '../../web/styles/tokens.css'), 'utf8');

/** Linear light, cut to what a screen can show. */
function linear(lightness: number, chroma: number, hueDegrees: number): Rgb {
  const hue = (hueDegrees * Math.PI) / 180;
  const a = chroma * Math.cos(hue);
  const b = chroma * Math.sin(hue);
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const cut = (x: number) => Math.min(1, Math.max(0, x));
  return [
    cut(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    cut(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    cut(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

const luminance = ([r, g, b]: Rgb): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;
const contrast = (one: Rgb, other: Rgb): number => {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
};

const COLOUR = /--([\w-]+):\s*oklch\(([\d.]+)% ([\d.]+) ([\d.]+)\)/g;
const colours = (text: string): Map<string, Rgb> =>
  new Map(
    [...text.matchAll(COLOUR)].map(([, name = '', l, c, h]) => [name, linear(Number(l) / 100, Number(c), Number(h))]),
  );
/** The light values come first; the dark ones stand twice, for the system's wish and for the person's. */
const [light = '', darkBySystem = '', darkByChoice = ''] = css.split(
  /@media \(prefers-color-scheme: dark\)|:root\[data-theme=["']?dark["']?\]/,
);

const THEMES = [
  ['light', colours(light)],
  ['dark', colours(darkBySystem)],
] as const;
const GROUNDS = ['ground', 'gutter', 'sheet'];
const TEXT = ['ink', 'ink-2', 'ink-3', 'high-text', 'medium-text', 'low-text'];
const SIGNS = ['rule', 'high', 'medium', 'low'];
const GASES = ['h2', 'h2o', 'co', 'n2', 'o2', 'ar', 'co2', 'oil'].map((gas) => `gas-${gas}`);

describe('the sums', () => {
  test('red, green and blue of sRGB come out of their published OKLCH values (CSS Color 4)', () => {
    const near = (found: Rgb, known: Rgb) =>
      expect(found.map((x) => Math.round(x * 100) / 100 + 0)).toEqual(known.map((x) => x + 0));
    near(linear(0.62796, 0.25768, 29.234), [1, 0, 0]);
    near(linear(0.86644, 0.29483, 142.495), [0, 1, 0]);
    near(linear(0.45201, 0.31321, 264.052), [0, 0, 1]);
  });

  test('black on white is 21 to 1 (WCAG 2.2)', () => {
    expect(contrast(linear(1, 0, 0), linear(0, 0, 0))).toBeCloseTo(21, 1);
  });
});

describe.each(THEMES)('%s', (_theme, of) => {
  const least = (names: readonly string[], grounds: readonly string[], needed: number) =>
    names.flatMap((name) =>
      grounds
        .map((ground) => ({ pair: `${name} on ${ground}`, is: contrast(of.get(name) as Rgb, of.get(ground) as Rgb) }))
        .filter(({ is }) => !(is >= needed)),
    );

  test('every colour is there', () => {
    expect([...GROUNDS, ...TEXT, ...SIGNS, ...GASES, 'well'].filter((name) => !of.has(name))).toEqual([]);
  });
  test('text has 4.5 to 1 wherever it stands', () => {
    expect(least(TEXT, GROUNDS, 4.5)).toEqual([]);
    expect(least(['ink', 'ink-3'], ['well'], 4.5)).toEqual([]);
  });
  test('text on a solid alert colour has 4.5 to 1', () => {
    expect(['high', 'medium', 'low'].flatMap((name) => least([`on-${name}`], [name], 4.5))).toEqual([]);
  });
  test('signs and lines of gases have 3 to 1', () => {
    expect(least(SIGNS, GROUNDS, 3)).toEqual([]);
    expect(least(GASES, ['ground'], 3)).toEqual([]);
  });
});

test('dark is the same whether the system or the person asks for it', () => {
  expect([...colours(darkByChoice)]).toEqual([...colours(darkBySystem)]);
});
