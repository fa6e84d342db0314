import type { Explanation } from './explain.ts';
import type { Fit } from './fit.ts';
import { type GaugeReading, gaugeEquivalent } from './gauge.ts';
import type { Note } from './heights.ts';
import type { GasInterval } from './intervals.ts';
import { sayPressure, sayPressureTwice, sayShare } from './say.ts';
import type { GasEstimate, InstrumentView, Measurement } from './types.ts';

/** Sentences that go with a reading, for people; each with the number behind it. */

/** Agreement between analyser and gauge tighter than this cannot be asked for (gauges differ by ±15 %). */
const GAUGE_TOLERANCE = 1.2;
const POOR_FIT = 3;
const PEAKS_NAMED = 5;
const TWO_SIDED_95 = 1.96;

export function gaugeRemark(gauge: GaugeReading, relative: boolean): Note | null {
  if (gauge.kind === 'reading') return null;
  const consequence = relative
    ? 'Without it this signal has no scale: only ratios of peaks mean anything.'
    : 'The sum of the partial pressures was not checked against it.';
  if (gauge.kind === 'missing')
    return { code: 'no-gauge', text: `No total pressure came with this scan. ${consequence}` };
  return {
    code: 'gauge-not-believed',
    text: `A total pressure of ${gauge.valuePa} Pa is not possible and was not used. ${consequence}`,
  };
}

export const noScaleRemark: Note = {
  code: 'no-scale',
  text: 'This analyser has no sensitivity on record and no total pressure came with the scan: pressures cannot be given, only ratios of peaks.',
};

export const scaledRemark = (gaugePa: number): Note => ({
  code: 'scaled-to-gauge',
  text: `This analyser gives shares only; they were scaled so that the gauge, ${sayPressureTwice(gaugePa)}, reads what it would read in this mixture.`,
});

/** The analyser claims more gas than the gauge sees, beyond what either may err. */
export function aboveGaugeRemark(fit: Fit, intervals: readonly GasInterval[], gaugePa: number): Note | null {
  let variance = 0;
  let largest: { id: string; low: number } | null = null;
  for (const { column, amount, low, high, detected } of intervals) {
    const { id, gaugeFactor } = fit.design.columns[column]!;
    variance += ((gaugeFactor * (high - low)) / (2 * TWO_SIDED_95)) ** 2 * (amount > 0 ? 1 : 0);
    if (detected && (largest === null || low * gaugeFactor > largest.low)) largest = { id, low: low * gaugeFactor };
  }
  const expected = gaugeEquivalent(fit);
  const surely = Math.max(expected - TWO_SIDED_95 * Math.sqrt(variance), largest?.low ?? 0);
  if (surely <= GAUGE_TOLERANCE * gaugePa) return null;
  const partial = largest !== null && largest.low > GAUGE_TOLERANCE * gaugePa;
  return {
    code: 'above-gauge',
    text:
      `With these partial pressures the gauge would read ${sayPressure(expected)}, but it reads ${sayPressure(gaugePa)}: ` +
      `${partial ? `${largest?.id} alone is more than the total. ` : ''}The sensitivity of the analyser or the gauge is wrong; ratios still hold.`,
  };
}

export function unexplainedRemark(
  { listed, unexplained }: Explanation,
  candidates: Measurement['candidates'] = [],
): Note | null {
  if (listed.length === 0) return null;
  const named = listed.slice(0, PEAKS_NAMED).map(({ mass, share }) => `${mass} (${sayShare(share)})`);
  const more = listed.length > PEAKS_NAMED ? ` and ${listed.length - PEAKS_NAMED} more` : '';
  const would = candidates
    .filter(({ gases }) => gases.length > 0)
    .slice(0, PEAKS_NAMED)
    .map(({ mass, gases }) => `${mass} would go with ${gases.join(' or ')}`);
  const hint = would.length === 0 ? '' : ` Of all gases in the catalogue, m/z ${would.join('; ')}.`;
  return {
    code: 'unexplained-peaks',
    text: `No gas of this chamber explains m/z ${named.join(', ')}${more}; in all ${sayShare(unexplained)} of the signal.${hint}`,
  };
}

/** A gas that has kept in step with another one for long is perhaps only a fragment that is stronger on this analyser. */
export function fragmentRemark(gases: readonly GasEstimate[], lookAlikes: InstrumentView['lookAlikes']): Note | null {
  const seen = lookAlikes.filter(({ gas }) => gases.some((one) => one.gas === gas && one.detected));
  if (seen.length === 0) return null;
  const parts = seen.map(({ gas, parent, scans }) => `${gas} with ${parent} (${scans} scans)`);
  return {
    code: 'may-be-a-fragment',
    text: `Always in the same ratio: ${parts.join(', ')}. It may be a fragment that is stronger on this analyser than in the records; a marked scan of the pure gas would tell.`,
  };
}

/** One gas was named, another would do as well. */
export function doubtfulNameRemarks({ design, alternatives }: Fit): Note[] {
  return alternatives.map(({ column, others, guessed }) => {
    const { id, referenceMass } = design.columns[column]!;
    const names = others.map((other) => design.columns[other]!.id);
    const text = guessed
      ? `m/z ${referenceMass} shows ${[id, ...names].join(' or ')}: too few of their masses were measured to say which, so none is counted as seen.`
      : `What is called ${id} here may as well be ${names.join(' or ')}: the peaks of this scan do not tell them apart.`;
    return { code: 'may-be-another', text };
  });
}

export function poorFitRemark(chiSquarePerDof: number | null): Note | null {
  if (chiSquarePerDof === null || chiSquarePerDof <= POOR_FIT) return null;
  return {
    code: 'poor-fit',
    text: `The gases fit this spectrum badly (chi square per degree of freedom ${chiSquarePerDof.toFixed(1)}): a gas may be missing from the list or the mass scale be off.`,
  };
}
