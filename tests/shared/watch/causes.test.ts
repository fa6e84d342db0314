import { describe, expect, test } from 'vitest';
import { airCause } from '../../../shared/watch/airCause.ts';
import type { Cause, Variant } from '../../../shared/watch/cause.ts';
import { causesOf } from '../../../shared/watch/causes.ts';
import { oneGas } from '../../../shared/watch/gasCause.ts';
import { pumping } from '../../../shared/watch/pumpingCause.ts';
import { vapourCauses } from '../../../shared/watch/vapourCauses.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { frameOf, watched } from '../../support/world/frames.ts';
import { contextOf } from '../../support/world.ts';

const masses = Array.from({ length: 150 }, (_, i) => i + 1);
const world = makeWorld(1);
const context = contextOf({ ...world, kind: 'baked' });
const withGases = (gases: string[]) => ({ ...context, chamber: { ...context.chamber, gases } });
const find = (causes: readonly Cause[], id: string) => causes.find((cause) => cause.id === id);

describe('air', () => {
  const even = { ...context, chamber: { ...context.chamber, pumpingSpeedLitresPerSecond: { N2: 100 } } };
  const [whole, eaten] = airCause(even, masses).triggers as [Float64Array, Float64Array];

  test('has the peaks that air is known by: 28/32 about 3.9 and 40/28 about 1.7 % (ion yields of the CRC Handbook)', () => {
    expect(whole[28]! / whole[32]!).toBeGreaterThan(3.5);
    expect(whole[28]! / whole[32]!).toBeLessThan(4.6);
    expect(whole[40]! / whole[28]!).toBeGreaterThan(0.014);
    expect(whole[40]! / whole[28]!).toBeLessThan(0.019);
  });

  test('without its oxygen it still has its argon', () => {
    expect(eaten[32]! / eaten[28]!).toBeLessThan(0.01);
    expect(eaten[40]! / eaten[28]!).toBeCloseTo(whole[40]! / whole[28]!, 2);
  });

  test('what the pumps take faster shows less: P = Q x / S', () => {
    const speeds = { N2: 200, Ar: 100 };
    const fast = airCause({ ...even, chamber: { ...even.chamber, pumpingSpeedLitresPerSecond: speeds } }, masses);
    const ratio = (d: Float64Array) => d[40]! / d[28]!;
    expect(ratio(fast.triggers[1]!)).toBeCloseTo(2 * ratio(eaten), 2);
  });
});

describe('gases from lines', () => {
  test('a gas that the chamber names is watched and as likely as any; another one only competes', () => {
    const named = find(causesOf(withGases(['NF3']), masses), 'NF3')!;
    expect(named).toMatchObject({ signature: 'gas-inleak', prior: 0 });
    expect(named.triggers).toHaveLength(1);
    const unnamed = find(causesOf(withGases([]), masses), 'NF3')!;
    expect(unnamed.triggers).toHaveLength(0);
    expect(unnamed.prior).toBeLessThan(0);
  });

  test('sulfur hexafluoride is watched everywhere: it is a tracer', () => {
    expect(find(causesOf(withGases([]), masses), 'SF6')!.triggers).toHaveLength(1);
  });

  test('names are resolved, and no gas competes twice', () => {
    const ids = causesOf(withGases(['sulfur hexafluoride', 'Ar']), masses).map(({ id }) => id);
    expect(ids.filter((id) => id === 'SF6')).toHaveLength(1);
    expect(ids.filter((id) => id === 'Ar')).toHaveLength(1);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

test('a cause none of whose masses is scanned cannot be judged', () => {
  const causes = causesOf(withGases([]), [2, 18, 28, 32, 40, 44]);
  expect(find(causes, 'silicone')).toBeUndefined();
  expect(find(causes, 'He')).toBeUndefined();
  expect(find(causes, 'air')).toBeDefined();
});

describe('pumps', () => {
  const frame = frameOf(watched(41), {});
  const { spectra } = frame.reference;
  const { variants, triggers } = pumping(spectra, frame.baseline.masses.length + 1);
  const moved = (variant: Variant, gas: string) => variant.moves![spectra.findIndex(({ own }) => own.gas === gas)];

  test('that all slow down move every gas alike; a turbopump lets the lightest back first: exp(−β (√M − √2))', () => {
    const all = variants.find(({ pump }) => pump === 'all')!;
    expect(new Set(all.moves)).toEqual(new Set([1]));
    for (const light of variants.filter(({ pump }) => pump === 'light-first')) {
      const [hydrogen, methane, water] = ['H2', 'CH4', 'H2O'].map((gas) => moved(light, gas)!) as [
        number,
        number,
        number,
      ];
      expect(hydrogen).toBeCloseTo(1, 1);
      // ln of the loss is linear in √M (M 16.04 and 18.02).
      expect(Math.log(methane) / Math.log(water)).toBeCloseTo((4.005 - Math.SQRT2) / (4.245 - Math.SQRT2), 2);
    }
    expect(triggers).toHaveLength(2);
  });

  test('that capture leave what they never took', () => {
    for (const getter of variants.filter(({ pump }) => pump === 'getter')) {
      expect(moved(getter, 'CO')).toBe(1);
      expect(moved(getter, 'CH4')).toBe(0);
    }
    const cold = variants.filter(({ pump }) => pump === 'cryopump');
    expect(cold.length).toBeGreaterThan(0);
    for (const variant of cold) expect([moved(variant, 'H2O'), moved(variant, 'CO2')]).toEqual([0, 0]);
  });

  test('cannot be told to be a getter without a gas that it leaves', () => {
    const few = spectra.filter(({ own }) => ['H2', 'CO', 'N2', 'H2O'].includes(own.gas));
    const pumps = pumping(few, frame.baseline.masses.length + 1).variants.map(({ pump }) => pump);
    expect(pumps).not.toContain('getter');
  });
});

describe('gases and vapours', () => {
  test('a gas that the catalogue does not hold is no cause', () => {
    expect(oneGas('unobtainium', 'gas-inleak', masses)).toEqual([]);
    const [argon] = oneGas('Ar', 'gas-inleak', masses, { prior: -1, watched: false });
    expect(argon).toMatchObject({ id: 'Ar', prior: -1, triggers: [] });
  });

  test('oils, fluids, silicones and solvents each have their signature', () => {
    const signatures = new Set(vapourCauses(masses).map(({ signature }) => signature));
    expect([...signatures].sort()).toEqual(['hydrocarbon-oil', 'perfluoropolyether', 'silicone', 'solvent']);
  });

  test('light hydrocarbons are methane and its kin; residues of cleaning gases compete everywhere', () => {
    const causes = causesOf(withGases([]), masses);
    expect(find(causes, 'light-hydrocarbons')).toMatchObject({ signature: 'methane', triggers: [] });
    for (const gas of ['HF', 'F2', 'SiF4', 'NF3', 'HCN', 'H2S', 'SO2', 'Hg'])
      if (gas !== 'Hg') expect(find(causes, gas), gas).toMatchObject({ signature: 'gas-inleak' });
    const heavy = Array.from({ length: 210 }, (_, i) => i + 1);
    expect(find(causesOf(withGases([]), heavy), 'Hg')).toBeDefined();
  });
});
