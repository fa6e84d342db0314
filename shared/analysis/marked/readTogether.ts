import { type ScanHeights, scanHeights } from '../heights.ts';
import { NOTHING_KNOWN } from '../instrument/known.ts';
import type { SteadyPeak } from '../instrument/steady.ts';
import { learnTop, NO_TOP } from '../instrument/top.ts';
import { median, sigmaFromMad } from '../robust.ts';
import type { AnalysisScan, Calibration } from '../types.ts';

/**
 * Heights of scans that belong together. What one scan cannot show, several do: a top height that is the same to the
 * last digit in all of them is the end of the detector, and a peak that is gone in one of them is a drop-out.
 */
export function readTogether(scans: readonly AnalysisScan[], calibration: Calibration): ScanHeights[] {
  const alone = scans.map((scan) => scanHeights(scan, calibration));
  const ended = { ...NOTHING_KNOWN, fullScale: endOfScale(alone) };
  const known = { ...ended, steady: steadyPeaks(alone) };
  const read = scans.map((scan) => scanHeights(scan, calibration, known));
  const gaps = read.filter(({ measured }) => measured.leftOut.some(({ why }) => why === 'drop-out')).length;
  if (gaps <= Math.max(1, MOST_GAPS * scans.length)) return read;
  return scans.map((scan) => scanHeights(scan, calibration, ended));
}

/** A peak that is gone in more of the scans than this is gone: the scans are of two kinds. */
const MOST_GAPS = 0.25;

function endOfScale(found: readonly ScanHeights[]): number | null {
  const isEnded = ({ measured }: ScanHeights) => measured.leftOut.some(({ why }) => why === 'cut off');
  const last = found.reduce((memory, one) => learnTop(memory, one.raw, isEnded(one)), NO_TOP);
  if (last.fullScale !== null) return last.fullScale;
  const again = found.length - 1;
  return again > 1 && last.repeats >= again ? last.value : null;
}

/** A peak must stand this far above the noise to be missed when it is gone. */
const STRONG_SIGMAS = 30;

function steadyPeaks(found: readonly ScanHeights[]): Map<number, SteadyPeak> {
  const byMass = new Map<number, number[]>();
  for (const { masses, raw } of found) {
    masses.forEach((mass, row) => {
      byMass.set(mass, [...(byMass.get(mass) ?? []), raw[row]!]);
    });
  }
  const noise = median(found.map(({ rawNoise }) => rawNoise));
  const strong = [...byMass].filter(([, heights]) => median(heights) > STRONG_SIGMAS * noise);
  return new Map(
    strong.map(([mass, heights]) => [mass, { height: median(heights), deviation: sigmaFromMad(heights), gaps: 0 }]),
  );
}
