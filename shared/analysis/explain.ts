import { ARTEFACT_NAMES } from './artefacts.ts';
import type { Fit } from './fit.ts';
import type { ScanAnalysis } from './types.ts';

/**
 * What explains each peak: the share of every gas and artefact in it, and what is left over.
 *
 * A rest within twice its standard deviation (noise and patterns) is not called unexplained: a fragment of water that
 * is 20 % stronger on this analyser than in the literature is still water. The parts then share the whole peak.
 */
export type ExplainedPeak = ScanAnalysis['peaks'][number];

const BELIEVED_SIGMAS = 2;
/** A peak is listed as unexplained beyond this many standard deviations and this share of itself. */
const LISTED_SIGMAS = 4;
const LISTED_SHARE = 0.3;
/** The part of a peak that a recorded background holds. */
const OWN_GAS = 'analyser background';
/** Parts smaller than this are not worth drawing. */
const SMALLEST_PART = 0.002;

export interface Explanation {
  readonly peaks: readonly ExplainedPeak[];
  /** Share of the whole signal that nothing explains. */
  readonly unexplained: number;
  /** Masses with an unexplained peak, largest first, with their share of the whole signal. */
  readonly listed: readonly { readonly mass: number; readonly share: number }[];
}

/** What the analyser brings itself, in the scale of the heights, per mass: it was taken off before the fit. */
type OwnHeights = Float64Array | null;

export function explainPeaks(fit: Fit, factor: number, own: OwnHeights = null): Explanation {
  const { design, residual, variance } = fit;
  const heights = own === null ? fit.heights : fit.heights.map((height, row) => height + own[row]!);
  let signal = 0;
  for (const height of heights) if (height > 0) signal += height;
  let rest = 0;
  const listed: { mass: number; share: number }[] = [];
  const peaks = design.masses.map((mass, row): ExplainedPeak => {
    const height = heights[row]!;
    const sigma = Math.sqrt(variance[row]!);
    const left = residual[row]! > BELIEVED_SIGMAS * sigma ? residual[row]! : 0;
    rest += left;
    if (residual[row]! > LISTED_SIGMAS * sigma && left > LISTED_SHARE * height) {
      listed.push({ mass, share: left / signal });
    }
    const unexplained = height > 0 ? Math.min(1, left / height) : 0;
    return {
      mass,
      heightPa: height * factor,
      sigmaPa: sigma * factor,
      parts: partsOf(fit, row, { height, explained: 1 - unexplained, own: own?.[row] ?? 0 }),
      unexplained,
      residualPa: residual[row]! * factor,
    };
  });
  listed.sort((a, b) => b.share - a.share);
  return { peaks, unexplained: signal > 0 ? Math.min(1, rest / signal) : 0, listed };
}

interface Part {
  readonly height: number;
  /** Share of the height that the parts are to fill. */
  readonly explained: number;
  readonly own: number;
}

/** Shares of the positive contributions, scaled to fill `explained`; largest first. */
function partsOf(fit: Fit, row: number, { height, explained, own }: Part): { gas: string; share: number }[] {
  const { design, amounts, noiseVariance } = fit;
  if (!(height > Math.sqrt(noiseVariance[row]!))) return [];
  const parts: { gas: string; share: number }[] = [];
  let sum = 0;
  if (own > 0) {
    parts.push({ gas: OWN_GAS, share: own });
    sum = own;
  }
  for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
    const j = design.entryColumn[e]!;
    const part = design.entryResponse[e]! * amounts[j]!;
    if (!(part > 0)) continue;
    const { id } = design.columns[j]!;
    const gas = j < design.gasCount ? id : ARTEFACT_NAMES[id as keyof typeof ARTEFACT_NAMES];
    // The two shapes of the foot are one thing.
    const same = parts.find((one) => one.gas === gas);
    if (same) same.share += part;
    else parts.push({ gas, share: part });
    sum += part;
  }
  for (const part of parts) part.share *= explained / sum;
  return parts.filter((part) => part.share >= SMALLEST_PART).sort((a, b) => b.share - a.share);
}
