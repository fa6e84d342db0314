import { type Column, gasColumns } from '../columns.ts';
import { sayShare } from '../say.ts';
import { CALIBRATION_MASS, TILT_UNCERTAINTY } from '../sensitivity.ts';
import type { Background, ScanAnalysis } from '../types.ts';
import { type BackgroundAnswer, LEAST_UNSTEADINESS } from './closedValve.ts';
import { type AnalysedPeriod, analysePeriod, type GasMean, gasMeans, movedGas } from './gasMeans.ts';
import { countOf, FEWEST_SCANS, refuse } from './pooledScans.ts';
import { steadiness } from './steadiness.ts';

/**
 * The analyser's own gas from a second analyser on the same chamber over the same time.
 *
 * Both are brought to one scale by gases that no ioniser makes: f = P₁ / P₂ of argon and nitrogen. What the first shows
 * of a gas beyond f times what the second shows is its own,
 *
 *   own_g = P₁g − f P₂g,   σ² = σ₁² + f² σ₂² + (f P₂g)² (u_f² + u_b² + 2 (u_t ln(m_g / m_f))²),
 *
 * u_b for relative sensitivities that differ between any two analysers, u_t for the unknown slope of each one's
 * transmission between the peak of the gas and that of the scale. Water serves as the scale when neither argon nor
 * nitrogen is seen by both; the analyser's own water is then hidden. The excess goes back to the peaks through the
 * pattern of the gas.
 */
export interface SecondAnalyser {
  readonly first: AnalysedPeriod;
  /** The one that is trusted. */
  readonly second: AnalysedPeriod;
}

/** Ionisers make H2, CO, CO2, CH4 and water; they take up oxygen (common practice). */
const NEVER_OWN: readonly string[] = ['He', 'Ne', 'N2', 'O2', 'Ar', 'Kr', 'Xe'];
const SCALES = ['Ar', 'N2'] as const;
const LAST_RESORT = 'H2O';
/** A scale from a gas that is known worse than this is none. */
const SCALE_ERROR = 0.3;
/** Relative sensitivities differ by some 20 % from analyser to analyser (see sensitivity.ts): √2 of it between two. */
const BETWEEN_ANALYSERS = 0.28;
/** Own gas is claimed from here on: half a dozen gases are asked at once, and a claim changes all later readings. */
const CLAIMED_SIGMAS = 3;
/** The periods must share this much of the shorter one. */
const SHARED_TIME = 0.5;

export function secondAnalyserBackground({ first, second }: SecondAnalyser): BackgroundAnswer {
  for (const { scans, calibration } of [first, second]) {
    if (scans.length < FEWEST_SCANS) {
      return refuse(
        `${countOf(scans.length)} of ${calibration.analyser}: at least ${FEWEST_SCANS} are needed of each.`,
      );
    }
  }
  if (!sameTime(first, second)) return refuse('The two analysers were not scanning at the same time.');
  const analyses = analysePeriod(first);
  const ours = gasMeans(analyses);
  const theirs = gasMeans(analysePeriod(second));
  if (ours.size === 0 || theirs.size === 0) return refuse('One of the analysers gives no partial pressures.');
  const moved = movedGas(theirs);
  if (moved !== null) {
    const percent = Math.round(100 * Math.abs(moved.course - 1));
    return refuse(
      `The chamber moved meanwhile: ${moved.gas} ${moved.course > 1 ? 'rose' : 'fell'} by ${percent} %. Choose a time at which it stands still.`,
    );
  }
  const scale = scaleBetween(ours, theirs, analyses);
  if (scale === null)
    return refuse('Neither argon, nitrogen nor water is seen well by both: nothing brings them to one scale.');
  const columns = columnsOf(first, analyses);
  const excesses = excessesOf(ours, theirs, scale, peakMasses(columns));
  if (excesses.length === 0) {
    return refuse(`${first.calibration.analyser} shows no gas beyond what ${second.calibration.analyser} shows.`);
  }
  const background = backgroundOf(excesses, columns, analyses);
  return { ok: true, background, remarks: remarksOf({ first, second }, scale, excesses) };
}

function sameTime(first: AnalysedPeriod, second: AnalysedPeriod): boolean {
  const [a, b] = [first, second].map(({ scans }) => {
    const times = scans.map(({ atMs }) => atMs);
    return { from: Math.min(...times), to: Math.max(...times) };
  }) as [{ from: number; to: number }, { from: number; to: number }];
  const shared = Math.min(a.to, b.to) - Math.max(a.from, b.from);
  return shared >= SHARED_TIME * Math.min(a.to - a.from, b.to - b.from);
}

interface Scale {
  readonly factor: number;
  /** Standard deviation of its logarithm. */
  readonly uncertainty: number;
  readonly gases: readonly string[];
}

type Means = ReadonlyMap<string, GasMean>;

function scaleBetween(ours: Means, theirs: Means, analyses: readonly ScanAnalysis[]): Scale | null {
  const n2Unsure = analyses.some(({ inseparable }) => inseparable !== undefined);
  const sure = SCALES.filter((gas) => gas !== 'N2' || !n2Unsure).flatMap((gas) => ratioOf(gas, ours, theirs));
  const used = sure.length > 0 ? sure : ratioOf(LAST_RESORT, ours, theirs);
  if (used.length === 0) return null;
  const weights = used.map(({ error }) => 1 / (error ** 2 + BETWEEN_ANALYSERS ** 2));
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const log = used.reduce((sum, { ratio }, i) => sum + weights[i]! * Math.log(ratio), 0) / whole;
  return { factor: Math.exp(log), uncertainty: Math.sqrt(1 / whole), gases: used.map(({ gas }) => gas) };
}

function ratioOf(gas: string, ours: Means, theirs: Means): { gas: string; ratio: number; error: number }[] {
  const a = ours.get(gas);
  const b = theirs.get(gas);
  if (!a?.detected || !b?.detected) return [];
  const error = Math.hypot(a.sigmaPa / a.valuePa, b.sigmaPa / b.valuePa);
  return error < SCALE_ERROR ? [{ gas, ratio: a.valuePa / b.valuePa, error }] : [];
}

interface Excess {
  readonly gas: string;
  readonly ownPa: number;
  readonly sigmaPa: number;
  /** Of what the first analyser shows of the gas. */
  readonly share: number;
}

function excessesOf(ours: Means, theirs: Means, { factor, uncertainty, gases }: Scale, masses: PeakMasses): Excess[] {
  const ofScale = gases.reduce((sum, gas) => sum + masses(gas), 0) / gases.length;
  return [...ours].flatMap(([gas, a]) => {
    const b = theirs.get(gas);
    if (!a.detected || b === undefined || gases.includes(gas) || NEVER_OWN.includes(gas)) return [];
    const expected = factor * b.valuePa;
    const ownPa = a.valuePa - expected;
    const tilt = Math.SQRT2 * TILT_UNCERTAINTY * Math.log(masses(gas) / ofScale);
    const relative = Math.hypot(uncertainty, BETWEEN_ANALYSERS, tilt);
    const sigmaPa = Math.hypot(a.sigmaPa, factor * b.sigmaPa, expected * relative);
    // Ratios of sensitivities err by factors: three standard deviations upwards are more than three times one.
    const chance = Math.hypot(
      CLAIMED_SIGMAS * Math.hypot(a.sigmaPa, factor * b.sigmaPa),
      expected * (Math.exp(CLAIMED_SIGMAS * relative) - 1),
    );
    return ownPa > chance ? [{ gas, ownPa, sigmaPa, share: ownPa / a.valuePa }] : [];
  });
}

/** Where the gas has its largest peak. */
type PeakMasses = (gas: string) => number;

const peakMasses = (columns: readonly Column[]): PeakMasses => {
  const of = new Map(columns.map(({ id, referenceMass }) => [id, referenceMass]));
  return (gas) => of.get(gas) ?? CALIBRATION_MASS;
};

const measuredMasses = (analyses: readonly ScanAnalysis[]): number[] => analyses[0]!.peaks.map(({ mass }) => mass);

const columnsOf = ({ catalogue, calibration }: AnalysedPeriod, analyses: readonly ScanAnalysis[]): readonly Column[] =>
  gasColumns(catalogue, measuredMasses(analyses), { patterns: calibration.patterns ?? [] }).columns;

function backgroundOf(
  excesses: readonly Excess[],
  columns: readonly Column[],
  analyses: readonly ScanAnalysis[],
): Background {
  const masses = measuredMasses(analyses);
  const height = new Float64Array(masses.length);
  const variance = new Float64Array(masses.length);
  for (const { gas, ownPa, sigmaPa } of excesses) {
    const column = columns.find(({ id }) => id === gas);
    column?.rows.forEach((row, k) => {
      const part = column.response[k]! * ownPa;
      height[row]! += part;
      variance[row]! += (column.response[k]! * sigmaPa) ** 2 + (column.relativeError[k]! * part) ** 2;
    });
  }
  const totals = analyses.map((analysis) => excesses.reduce((sum, { gas }) => sum + valueIn(analysis, gas), 0));
  const entries = masses.flatMap((mass, row) =>
    height[row]! > 0 ? [[mass, { heightPa: height[row]!, sigmaPa: Math.sqrt(variance[row]!) }] as const] : [],
  );
  return {
    peaks: Object.fromEntries(entries),
    unsteadiness: Math.max(LEAST_UNSTEADINESS, steadiness(totals).spread),
  };
}

const valueIn = ({ gases }: ScanAnalysis, gas: string): number =>
  gases.find((estimate) => estimate.gas === gas)?.valuePa ?? 0;

function remarksOf({ first, second }: SecondAnalyser, { factor, gases }: Scale, excesses: readonly Excess[]): string[] {
  const names = [first, second].map(({ calibration }) => calibration.analyser);
  const parts = excesses.map(({ gas, share }) => `${gas} ${sayShare(share)}`).join(', ');
  return [
    `Both were brought to one scale by ${gases.join(' and ')}: ${names[0]} shows ${factor.toFixed(2)} times what ${names[1]} shows.`,
    `Of its own, ${names[0]} adds: ${parts} of what it shows of the gas.`,
    ...(gases.includes(LAST_RESORT)
      ? ['The scale rests on water: water of the analyser itself is hidden, and its other gases come out too small.']
      : []),
    'What both analysers add alike cannot be seen, and a leak at one of them would spoil the scale.',
  ];
}
