/**
 * Outside: 3,200 averages of a sweep of 85 ms take 272 s and 3 take 0.26 s (common practice). White noise falls as the
 * square root, and σ_A²(N) = σ²/N + 2 ln2·h + d²N²/2 for white, flicker and drift together (IEEE Std 1139; W. J. Riley,
 * NIST SP 1065). The Allan deviations of the 1,000-point test suite of NIST SP 1065, section 12.4 (normal, averaging
 * factors 1, 10, 100) are from memory.
 */
import { describe, expect, test } from 'vitest';
import { curveFor, sweepsFor } from '../../../shared/measurement/allanCurve.ts';
import { type PlanQuestion, plan, responseSeconds } from '../../../shared/measurement/planner.ts';
import { sayDuration } from '../../../shared/measurement/say.ts';

const octaves = Array.from({ length: 13 }, (_, k) => 2 ** k);
const allanOf = (deviation: (scans: number) => number, averages = 1, mass = 28) => ({
  averages,
  scans: octaves,
  masses: [{ mass, sigmaPa: octaves.map(deviation) }],
});
const white = (scans: number) => 1e-12 / Math.sqrt(scans);
const [SIGMA, H, D] = [1, 2e-3, 2e-5];
const formula = (n: number) => Math.sqrt(SIGMA ** 2 / n + 2 * Math.LN2 * H + (D ** 2 * n ** 2) / 2);

const asked = (changed: Partial<PlanQuestion> = {}): PlanQuestion => ({
  gasName: 'nitrogen',
  pressurePa: 1e-12,
  detectionMultiple: 3,
  mass: 28,
  response: 1,
  secondsPerSweep: 10,
  sweepsPerScan: 1,
  periodSeconds: 10,
  noisePa: 1e-12,
  allan: allanOf(white),
  unit: 'Pa',
  ...changed,
});

describe('response time', () => {
  test('3,200 averages of an 85 ms sweep take 272 s, 3 take 0.26 s', () => {
    expect(responseSeconds(3200, 0.085)).toBeCloseTo(272, 9);
    expect(sayDuration(responseSeconds(3, 0.085))).toBe('0.26 s');
  });

  test('is what a plan costs: white noise 56.6 times too high needs 3,200 sweeps', () => {
    const found = plan(
      asked({
        secondsPerSweep: 0.085,
        detectionMultiple: 1,
        pressurePa: 1e-12 / Math.sqrt(3200),
        allan: allanOf(white),
      }),
    );
    expect(found.sweeps).toBe(3200);
    expect(found.responseSeconds).toBeCloseTo(272, 9);
    expect(found.because).toContain('3,200 sweeps');
    expect(found.because).toContain('4.5 min');
  });
});

describe('a measured curve', () => {
  test('of white noise: nine scans to see with three sigma what one sigma of a scan is', () => {
    expect(plan(asked())).toMatchObject({ sweeps: 9, responseSeconds: 90, bestSweeps: null, nowPa: 3e-12 });
  });

  test('with flicker and drift leads to the number that its formula gives, within 3 %', () => {
    const allan = allanOf(formula);
    for (const wanted of [0.5, 0.2, 0.12, 0.1, 0.08, 0.07]) {
      const exact = Array.from({ length: 4096 }, (_, k) => k + 1).find((n) => formula(n) <= wanted) as number;
      const found = plan(asked({ allan, detectionMultiple: 1, pressurePa: wanted })).sweeps as number;
      expect(Math.abs(found / exact - 1), `${wanted}: ${found} for ${exact}`).toBeLessThan(0.03);
    }
  });

  test('says "not by averaging" below its minimum, with the least that can be seen', () => {
    const found = plan(asked({ allan: allanOf(formula), detectionMultiple: 1, pressurePa: 0.05 }));
    // d/dN of the formula is zero where σ²/N² = d²N: N = (σ/d)^(2/3) = 1357; of the octaves 1024 lies lowest.
    expect(found).toMatchObject({ sweeps: null, responseSeconds: null, bestSweeps: 1024 });
    expect(found.leastDetectablePa).toBeCloseTo(formula(1024), 12);
    expect(found.because).toMatch(/^Not by averaging\. Beyond 1,024 sweeps/);
  });

  test('promises nothing beyond what was compared', () => {
    const found = plan(asked({ pressurePa: 1e-14 }));
    expect(found.sweeps).toBeNull();
    expect(found.because).toMatch(/up to 4,096 sweeps .* not known yet/);
  });

  test('reaches the published deviations at their own averaging factors', () => {
    const riley = {
      averages: 1,
      scans: [1, 10, 100],
      masses: [{ mass: 28, sigmaPa: [0.2922319, 0.09965736, 0.03897804] }],
    };
    const curve = curveFor(riley, 28);
    expect([0.2922319, 0.09965736, 0.03897804].map((wanted) => sweepsFor(curve!, wanted))).toEqual([1, 10, 100]);
    expect(sweepsFor(curve!, 0.0389)).toBeNull();
  });

  test('is joined on the logarithmic scale: half way between octaves is the geometric mean', () => {
    const curve = {
      mass: 28,
      sweepsPerScan: 100,
      points: [
        { scans: 1, sigmaPa: 8 },
        { scans: 4, sigmaPa: 2 },
      ],
    } as const;
    expect(sweepsFor(curve, 4)).toBe(200);
  });

  test('below one scan is white: a quarter of the sweeps for twice the noise', () => {
    const found = plan(
      asked({ allan: allanOf(white, 400), sweepsPerScan: 400, secondsPerSweep: 0.085, pressurePa: 6e-12 }),
    );
    expect(found.sweeps).toBe(100);
    expect(found.responseSeconds).toBeCloseTo(8.5, 9);
    expect(plan(asked({ pressurePa: 1 })).sweeps).toBe(1);
  });

  test('of scans that average more than the present ones still says what one present scan sees', () => {
    expect(plan(asked({ allan: allanOf(white, 16), sweepsPerScan: 4 })).nowPa).toBeCloseTo(6e-12, 20);
  });

  test('does not believe in a lucky last point: neither a dip below white noise nor one that did not fall', () => {
    const sigmaPa = [8, 4, 2, 0.1];
    const dip = { averages: 1, scans: [1, 4, 16, 64], masses: [{ mass: 28, sigmaPa }] };
    const found = plan(asked({ allan: dip, detectionMultiple: 1, pressurePa: 0.9 }));
    // White noise would stand at 1 after 64 scans.
    expect(found).toMatchObject({ sweeps: null, leastDetectablePa: 1, bestSweeps: null });
    expect(found.curve[3]!.detectablePa).toBe(0.1);
    const flat = { averages: 1, scans: [1, 4, 16], masses: [{ mass: 28, sigmaPa: [8, 4, 4.1] }] };
    expect(plan(asked({ allan: flat, detectionMultiple: 1, pressurePa: 3 })).because).toMatch(/not known yet/);
  });

  test('shows measured and white side by side', () => {
    const { curve } = plan(asked({ allan: allanOf(formula, 2), sweepsPerScan: 2, detectionMultiple: 3, response: 2 }));
    expect(curve).toHaveLength(13);
    expect(curve[0]).toMatchObject({ sweeps: 2, seconds: 20 });
    expect(curve[12]!.detectablePa / curve[12]!.whitePa).toBeCloseTo(formula(4096) / (formula(1) / 64), 9);
  });

  test('skips what is not known yet', () => {
    const sigmaPa = octaves.map((scans) => (scans > 8 ? null : white(scans)));
    const found = plan(asked({ allan: { averages: 1, scans: octaves, masses: [{ mass: 28, sigmaPa }] } }));
    expect(found.sweeps).toBeNull();
    expect(found.curve).toHaveLength(4);
    const nothing = { averages: 1, scans: octaves, masses: [{ mass: 28, sigmaPa: octaves.map(() => null) }] };
    expect(plan(asked({ allan: nothing })).because).toMatch(/not known yet/);
  });
});

describe('a mass that is not followed', () => {
  const followed = { averages: 1, scans: [1, 4], masses: [] as { mass: number; sigmaPa: number[] }[] };

  test('takes the shape of the quietest one and its own noise', () => {
    const allan = {
      ...followed,
      masses: [
        { mass: 18, sigmaPa: [8, 8] },
        { mass: 5, sigmaPa: [2, 1] },
      ],
    };
    const found = plan(asked({ allan, mass: 84, response: 0.5, noisePa: 1, detectionMultiple: 1, pressurePa: 0.5 }));
    expect(found.sweeps).toBe(4);
    expect(found.because).toContain('m/z 84 is not followed over time itself');
    expect(found.because).toContain('m/z 5');
  });

  test('without any noise of its own has no plan', () => {
    const allan = { ...followed, masses: [{ mass: 5, sigmaPa: [2, 1] }] };
    expect(plan(asked({ allan, mass: 84, noisePa: null }))).toMatchObject({ sweeps: null, curve: [] });
  });
});

describe('without a curve', () => {
  test('the square root is followed, and said to be a hope', () => {
    const found = plan(asked({ allan: null, sweepsPerScan: 10, pressurePa: 1.5e-12, periodSeconds: null }));
    // Twice better than a scan of ten sweeps: forty.
    expect(found).toMatchObject({
      sweeps: 40,
      responseSeconds: 400,
      bestSweeps: null,
      leastDetectablePa: null,
      curve: [],
    });
    expect(found.because).toMatch(/drift allows that is not known yet/);
  });

  test('and without a noise nothing is said', () => {
    expect(plan(asked({ allan: null, noisePa: null }))).toMatchObject({ sweeps: null, nowPa: null });
  });
});

test('scans that are sent seldom take longer than their response time', () => {
  const found = plan(asked({ periodSeconds: 60 }));
  expect(found.because).toContain('As scans are sent now, 9 of them take 9 min.');
  expect(plan(asked()).because).not.toContain('As scans are sent now');
});
