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
/** Parts smaller than this are not worth drawing. */
const SMALLEST_PART = 0.002;

export interface Explanation {
  readonly peaks: readonly ExplainedPeak[];
  /** Share of the whole signal that nothing explains. */
  readonly unexplained: number;
  /** Masses with an unexplained peak, largest first, with their share of the whole signal. */
  readonly listed: readonly { readonly mass: number; readonly share: number }[];
}

export function explainPeaks(fit: Fit, factor: number): Explanation {
  const { design, heights, residual, variance } = fit;
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
      parts: partsOf(fit, row, 1 - unexplained),
      unexplained,
    };
  });
  listed.sort((a, b) => b.share - a.share);
  return { peaks, unexplained: signal > 0 ? Math.min(1, rest / signal) : 0, listed };
}

/** Shares of the positive contributions, scaled to fill `explained`; largest first. */
function partsOf(
  { design, amounts, heights, noiseVariance }: Fit,
  row: number,
  explained: number,
): { gas: string; share: number }[] {
  if (!(heights[row]! > Math.sqrt(noiseVariance[row]!))) return [];
  const parts = new Map<string, number>();
  let sum = 0;
  for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
    const j = design.entryColumn[e]!;
    const part = design.entryResponse[e]! * amounts[j]!;
    if (!(part > 0)) continue;
    const id = design.columns[j]!.id;
    const name = j < design.gasCount ? id : ARTEFACT_NAMES[id as keyof typeof ARTEFACT_NAMES];
    parts.set(name, (parts.get(name) ?? 0) + part);
    sum += part;
  }
  return [...parts]
    .map(([gas, part]) => ({ gas, share: (explained * part) / sum }))
    .filter((part) => part.share >= SMALLEST_PART)
    .sort((a, b) => b.share - a.share);
}
