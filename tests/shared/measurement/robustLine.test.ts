/**
 * Truth by construction: lines of known level and slope under noise without memory and with it (first order
 * autoregression), noise of two kinds together, bursts, and courses that are no lines.
 */
import { describe, expect, test } from 'vitest';
import { type RobustLine, robustLine } from '../../../shared/measurement/robustLine.ts';
import { robustMean, scatterHalf } from '../../../shared/measurement/robustMean.ts';
import { normals } from './normals.ts';

/** A side of fifty minutes, ln P of some 10⁻⁸ Pa, scatter of 6 %. */
const SIDE_HOURS = 50 / 60;
const LEVEL = -18;
const NOISE = 0.06;

interface Course {
  readonly scans: number;
  readonly phi: number;
  /** From the first scan to the last. */
  readonly grows: number;
  /** ln P at both ends above a line through the middle. */
  readonly bow?: number;
  /** Share of the variance that has no memory. */
  readonly white?: number;
  readonly moment?: 'newest' | 'middle';
}

const hoursOf = (scans: number) => Array.from({ length: scans }, (_, k) => (k / (scans - 1)) * SIDE_HOURS);
const truthAt = (hour: number, { grows, bow = 0 }: Course) => {
  const share = hour / SIDE_HOURS;
  return LEVEL + Math.log(grows) * share + 4 * bow * (share - 0.5) ** 2;
};
const momentOf = ({ scans, moment = 'newest' }: Course) =>
  moment === 'newest' ? (hoursOf(scans).at(-1) ?? 0) : SIDE_HOURS / 2;

const series = (next: () => number, course: Course): number[] => {
  const { scans, phi, white = 0 } = course;
  let memory = next();
  return hoursOf(scans).map((hour) => {
    memory = phi * memory + Math.sqrt(1 - phi ** 2) * next();
    return truthAt(hour, course) + NOISE * (Math.sqrt(1 - white) * memory + Math.sqrt(white) * next());
  });
};

const RUNS = 400;
const study = (course: Course) => {
  const next = normals(course.scans + Math.round(1000 * course.phi) + Math.round(10 * course.grows));
  const [hours, at] = [hoursOf(course.scans), momentOf(course)];
  const slope = Math.log(course.grows) / SIDE_HOURS;
  const found: RobustLine[] = [];
  let [level, growth, moving, curved] = [0, 0, 0, 0];
  for (let run = 0; run < RUNS; run++) {
    const line = robustLine(hours, series(next, course), at);
    if (line === null) throw new Error('no line');
    if (line === 'curved') curved++;
    else found.push(line);
  }
  for (const line of found) {
    if (Math.abs(line.level.ln - truthAt(at, course)) <= scatterHalf(line.level)) level++;
    if (Math.abs(line.growth.lnPerHour - slope) <= scatterHalf(line.growth)) growth++;
    if (Math.abs(line.growth.lnPerHour) > scatterHalf(line.growth)) moving++;
  }
  const share = (count: number) => count / found.length;
  return { level: share(level), growth: share(growth), moving: share(moving), curved: curved / RUNS };
};

describe('95 % intervals hold the true level at the moment and the true growth', () => {
  // Binomial scatter of 400 runs about 0.95 is 0.011.
  test.each<Course>([
    { scans: 50, phi: 0, grows: 1 },
    { scans: 50, phi: 0, grows: 10 },
    { scans: 50, phi: 0.5, grows: 1 },
    { scans: 50, phi: 0.5, grows: 3 },
    { scans: 50, phi: 0.5, grows: 10 },
    { scans: 50, phi: 0.8, grows: 3 },
    { scans: 195, phi: 0, grows: 1, moment: 'middle' },
    { scans: 195, phi: 0.5, grows: 1, moment: 'middle' },
    { scans: 195, phi: 0.8, grows: 3 },
    { scans: 195, phi: 0.9, grows: 2, white: 0.7 },
    { scans: 40, phi: 0.5, grows: 3 },
    { scans: 40, phi: 0.8, grows: 3 },
  ])('%o', (course) => {
    const { level, growth, curved } = study(course);
    expect(level).toBeGreaterThan(0.92);
    expect(level).toBeLessThan(0.995);
    expect(growth).toBeGreaterThan(0.92);
    expect(growth).toBeLessThan(0.995);
    expect(curved).toBeLessThan(0.1);
  });

  test('a gas that rests is seldom said to move, and one that grows threefold always', () => {
    expect(study({ scans: 50, phi: 0.5, grows: 1 }).moving).toBeLessThan(0.08);
    expect(study({ scans: 50, phi: 0.5, grows: 3 }).moving).toBeGreaterThan(0.95);
  });
});

describe('where the middle of a moving gas says nothing', () => {
  const course: Course = { scans: 50, phi: 0.3, grows: 10 };
  const values = series(normals(5), course);

  test('the newest level is known to a tenth, where the middle has one value that counts', () => {
    const line = robustLine(hoursOf(50), values, SIDE_HOURS) as RobustLine;
    expect(scatterHalf(line.level)).toBeLessThan(0.1);
    expect(Math.abs(line.level.ln - (LEVEL + Math.log(10)))).toBeLessThan(0.1);
    expect(robustMean(values)?.effective).toBeLessThan(2);
    expect(scatterHalf(robustMean(values) as NonNullable<ReturnType<typeof robustMean>>)).toBeGreaterThan(1);
  });

  test('an hour of it: the slope is what was put in', () => {
    const { growth } = robustLine(hoursOf(50), values, SIDE_HOURS) as RobustLine;
    expect(Math.abs(growth.lnPerHour / (Math.log(10) / SIDE_HOURS) - 1)).toBeLessThan(0.05);
  });

  test('a burst of a tenth of the scans hardly moves it, nor do scans that do not see the gas', () => {
    const quiet = robustLine(hoursOf(50), values, SIDE_HOURS) as RobustLine;
    for (const strange of [5, Number.NEGATIVE_INFINITY]) {
      const burst = values.map((value, k) => (k % 12 === 3 ? value + strange : value));
      const line = robustLine(hoursOf(50), burst, SIDE_HOURS) as RobustLine;
      expect(Math.abs(line.level.ln - quiet.level.ln)).toBeLessThan(0.05);
      expect(Number.isFinite(line.level.sigma)).toBe(true);
    }
  });
});

describe('a course that is no line has no level', () => {
  test('a bow of its own scatter is found more often than not, one of four times always', () => {
    expect(study({ scans: 195, phi: 0.3, grows: 3, bow: 0.06 }).curved).toBeGreaterThan(0.35);
    expect(study({ scans: 195, phi: 0.3, grows: 3, bow: 0.12 }).curved).toBeGreaterThan(0.9);
    expect(study({ scans: 50, phi: 0, grows: 3, bow: 0.25 }).curved).toBeGreaterThan(0.98);
  });

  test('a bow that is not seen costs the interval little of its truth', () => {
    const { level, curved } = study({ scans: 50, phi: 0.5, grows: 3, bow: 0.03 });
    expect(curved).toBeLessThan(0.1);
    expect(level).toBeGreaterThan(0.9);
  });

  test.each([10, 25, 40])('a step at scan %d of 50 is no line, or so wide that nothing wrong is said', (from) => {
    const step = series(normals(9), { scans: 50, phi: 0, grows: 1 }).map((value, k) => value + (k < from ? 0 : 1));
    const line = robustLine(hoursOf(50), step, SIDE_HOURS) as RobustLine;
    const holds = (line as unknown) === 'curved' || Math.abs(line.level.ln - (LEVEL + 1)) < scatterHalf(line.level);
    const grows = (line as unknown) !== 'curved' && Math.abs(line.growth.lnPerHour) > scatterHalf(line.growth);
    expect([holds, grows]).toEqual([true, false]);
  });
});

test('no answer is an answer', () => {
  const hours = hoursOf(6);
  expect(robustLine([], [], 0)).toBeNull();
  expect(robustLine([0, 1], [1, 2], 1)).toBeNull();
  expect(robustLine([1, 1, 1, 1], [1, 2, 3, 4], 1)).toBeNull();
  expect(
    robustLine(hours, [1, 2, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, 3], 0),
  ).toBeNull();
  const exact = robustLine([0, 1, 2, 3, 4], [1, 3, 5, 7, 9], 4) as RobustLine;
  expect(exact.level).toMatchObject({ ln: 9, sigma: 0 });
  expect(exact.growth).toMatchObject({ lnPerHour: 2, sigma: 0 });
});
