import type { Catalogue, CatalogueGas } from '../../catalogue/types.ts';
import { gasResponse } from '../columns.ts';
import { sayShare } from '../say.ts';
import { CALIBRATION_GAS } from '../sensitivity.ts';
import type { AnalysisScan, Calibration, LearnedPattern } from '../types.ts';
import { fragmentRatios, type NetScan, type Ratio } from './fragmentRatios.ts';
import { learnedPeaks } from './learnedPeaks.ts';
import { type OwnMasses, ownMasses } from './ownMasses.ts';
import { type PooledScans, poolScans, type Refusal, refuse } from './pooledScans.ts';
import { impurity, type Purity, purityOf } from './purity.ts';
import { offTheRecords, unsteadyPattern } from './recordedRatios.ts';
import { type DosedScan, type Response, responseOf } from './response.ts';
import { makeRestFitter, type Rest, type RestFitter } from './restGas.ts';

/**
 * The pattern of one gas on one analyser, from scans that a person marked as this gas alone.
 *
 * pool of heights (pooledScans.ts) → the rest gas taken off (restGas.ts) → is it the gas, and alone (purity.ts,
 * recordedRatios.ts) → peaks against the largest (fragmentRatios.ts, learnedPeaks.ts) → response from the gauge
 * (response.ts). Every refusal is a sentence that says what to do better.
 */
export interface PatternQuestion {
  readonly gas: CatalogueGas;
  readonly catalogue: Catalogue;
  readonly scans: readonly AnalysisScan[];
  readonly calibration: Calibration;
  /** The gas's pressure is what the gauge says; false: the amount is unknown. */
  readonly amountFromGauge: boolean;
}

export type PatternAnswer =
  | { readonly ok: true; readonly pattern: LearnedPattern; readonly remarks: readonly string[] }
  | Refusal;

/** Away from the gas's own masses something must have been measured, or nothing shows what else is there. */
const FEWEST_FOREIGN = 3;
/** A gas is not related to one of its small peaks: what may hide below that is as large as the peak. */
const LEAST_MEASURED = 0.3;
/** The largest peak must stand this far above noise. */
const LEAST_EVIDENCE = 30;

export function learnPattern(question: PatternQuestion): PatternAnswer {
  const { gas, catalogue, calibration } = question;
  const pool = poolScans(question.scans, calibration);
  if (!pool.ok) return pool;
  const own = ownMasses(gas);
  const cut = [...pool.cutOff].filter((mass) => own.listed.has(mass));
  if (cut.length > 0) {
    return refuse(
      `The peak at m/z ${cut.join(', ')} is cut off at the end of the range: let in less gas, or lower the gain.`,
    );
  }
  if (measuredShare(gas, pool.masses) < LEAST_MEASURED) {
    return refuse(`The large peaks of ${gas.name} were not measured: its fragments need one to be compared with.`);
  }
  const fitter = makeRestFitter({ gas: gas.id, catalogue, calibration, masses: pool.masses, own });
  if (fitter.foreign.length < FEWEST_FOREIGN) {
    return refuse(
      `The scans hold too few masses at which ${gas.name} has no peak: whether it was pure cannot be seen.`,
    );
  }
  const rests = pool.scans.map(({ heights, variance }) => fitter.rest(heights, variance));
  const reference = largestOwn(pool, rests, own);
  if (reference === null) return refuse(`No peak of ${gas.name} stands clearly above the noise in every scan.`);
  return answer({ ...question, pool, own, fitter, rests, reference });
}

/** Largest of the measured peaks against the largest of all, by the records. */
function measuredShare({ records }: CatalogueGas, masses: readonly number[]): number {
  const shares = records.map(({ peaks }) => {
    const measured = masses.map((mass) => peaks[mass] ?? 0);
    return Math.max(0, ...measured) / Math.max(...Object.values(peaks));
  });
  return Math.max(...shares);
}

interface Found extends PatternQuestion {
  readonly pool: PooledScans;
  readonly own: OwnMasses;
  readonly fitter: RestFitter;
  readonly rests: readonly Rest[];
  /** Row of the largest peak. */
  readonly reference: number;
}

function answer(found: Found): PatternAnswer {
  const { gas, pool, own, rests, reference } = found;
  const { masses } = pool;
  const response = gasResponse(withGas(found.catalogue, gas), gas.id, masses)[reference]!;
  const purities = pool.scans.map((scan, i) => purityOf(scan, rests[i]!, { gas: gas.id, response, masses, own }));
  const referenceMass = masses[reference]!;
  const ratios = fragmentRatios(netScans(pool, rests), reference);
  const listed = masses.flatMap((mass, row) => (own.listed.has(mass) ? [row] : []));
  const check = {
    gas,
    masses: listed.map((row) => masses[row]!),
    ratios: listed.map((row) => ratios[row]!),
    referenceMass,
  };
  const problem =
    impurity(gas.name, purities, largestOther(rests, found)) ?? offTheRecords(check) ?? unsteadyPattern(check);
  if (problem !== null) return refuse(problem);
  const peaks = learnedPeaks({ gas, masses, own, ratios, referenceMass, isClaimed: found.fitter.isClaimed });
  const dose = found.amountFromGauge ? doseOf(found, response) : null;
  const pattern: LearnedPattern = {
    gas: gas.id,
    peaks: peaks.peaks,
    fragmentUncertainty: peaks.uncertainty,
    responseAtLargest: dose?.value ?? null,
    responseUncertainty: dose?.uncertainty ?? null,
  };
  if (Object.keys(pattern.peaks).length < 2 && dose === null) {
    return refuse(`${gas.name} shows one peak only and its amount is not known: nothing is learned from these scans.`);
  }
  return { ok: true, pattern, remarks: remarksOf({ ...found, purities, left: peaks.left, dose, response, ratios }) };
}

/** The gas may be one that this chamber is not expected to hold. */
const withGas = (catalogue: Catalogue, gas: CatalogueGas): Catalogue =>
  catalogue.gases.some(({ id }) => id === gas.id) ? catalogue : { ...catalogue, gases: [...catalogue.gases, gas] };

function largestOwn(pool: PooledScans, rests: readonly Rest[], own: OwnMasses): number | null {
  let best: number | null = null;
  let most = 0;
  pool.masses.forEach((mass, row) => {
    if (!own.listed.has(mass)) return;
    const nets = pool.scans.map(({ heights }, i) => heights[row]! - rests[i]!.height[row]!);
    const sum = nets.reduce((total, net) => total + net, 0);
    const clear = pool.scans.every(({ variance }, i) => nets[i]! > LEAST_EVIDENCE * Math.sqrt(variance[row]!));
    if (clear && sum > most) {
      most = sum;
      best = row;
    }
  });
  return best;
}

const netScans = (pool: PooledScans, rests: readonly Rest[]): NetScan[] =>
  pool.scans.map(({ heights, variance }, i) => ({
    heights: heights.map((height, row) => height - rests[i]!.height[row]!),
    noiseVariance: variance,
    restSigma: rests[i]!.sigma,
  }));

/** Relative signals have no pascal: then only the gauge's own share of them is known, and no response. */
function doseOf({ gas, catalogue, calibration, pool, rests, reference }: Found, response: number): Response | null {
  if (pool.scale !== 'pascal') return null;
  const factors = new Map(catalogue.gases.map(({ id, relativeSensitivity }) => [id, relativeSensitivity.value]));
  const dosed = pool.scans.map(({ scan, heights, variance }, i): DosedScan => {
    const rest = rests[i]!;
    const heightPa = heights[reference]! - rest.height[reference]!;
    const own = (gas.relativeSensitivity.value * heightPa) / response;
    const others = [...rest.amounts].reduce((sum, [id, amount]) => sum + amount * (factors.get(id) ?? 1), 0);
    return { scan, heightPa, noise: Math.sqrt(variance[reference]!) / heightPa, gaugeShare: own / (own + others) };
  });
  return responseOf(gas, dosed, calibration.gaugeFactor ?? 1);
}

/** Name of the other gas of which most was found, over all scans. */
function largestOther(rests: readonly Rest[], { catalogue }: Found): string | null {
  const sums = new Map<string, number>();
  for (const { amounts } of rests) for (const [id, amount] of amounts) sums.set(id, (sums.get(id) ?? 0) + amount);
  const [first] = [...sums].sort((a, b) => b[1] - a[1]);
  return first === undefined ? null : (catalogue.gases.find(({ id }) => id === first[0])?.name ?? first[0]);
}

interface Told extends Found {
  readonly purities: readonly Purity[];
  readonly left: readonly number[];
  readonly dose: Response | null;
  readonly response: number;
  readonly ratios: readonly Ratio[];
}

function remarksOf({ gas, pool, fitter, purities, left, dose, response, amountFromGauge }: Told): string[] {
  const least = Math.min(...purities.map(({ share }) => share));
  const air = purities.every((purity) => purity.air);
  const notLearned = `m/z ${left.join(', ')} could not be learned from these scans: there the published pattern stays.`;
  return [
    ...pool.remarks,
    air
      ? 'The scans show dry air: nitrogen was learned from it, with oxygen and argon taken off.'
      : `${gas.name} makes at least ${Math.floor(100 * least)} % of the signal; what other gases add below its peaks was taken off.`,
    ...(fitter.hidden.length === 0
      ? []
      : [`Beside this gas ${fitter.hidden.join(', ')} cannot be seen: if it was there, it is in the pattern now.`]),
    ...(left.length === 0 ? [] : [notLearned]),
    ...(amountFromGauge ? [doseRemark(gas, dose, response, pool)] : []),
  ];
}

/** A nitrogen dose that is off by more than this says that the sensitivity on record is. */
const WORTH_SAYING = 0.1;

function doseRemark(gas: CatalogueGas, dose: Response | null, response: number, pool: PooledScans): string {
  if (pool.scale !== 'pascal')
    return 'The analyser gives relative signals: the amount of gas says nothing of its response.';
  if (dose === null) return 'No scan came with a gauge reading: the response of the gas stays as published.';
  const from = `from the gauge in ${dose.scans} of ${pool.scans.length} scans, with its factor ${gas.relativeSensitivity.value} for ${gas.name}`;
  const found = `The response is ${(dose.value / response).toFixed(2)} times the published one (${from}; ± ${sayShare(dose.uncertainty)}).`;
  if (gas.id !== CALIBRATION_GAS || Math.abs(Math.log(dose.value / response)) < WORTH_SAYING) return found;
  return `${found} Nitrogen is what the analyser’s sensitivity is stated for: set the sensitivity anew, and all gases follow.`;
}
