/**
 * The gain of the multiplier is found to be another one while what is usual is still being learned: the scans that have
 * been gathered are carried to the new scale with it, or the baseline would be a blend of two.
 */

import { commonStep } from './commonStep.ts';
import { newBook } from './detectorBook.ts';
import { type DetectorStep, gainFactor, gainOf, isNearer } from './detectors.ts';
import { rescaleBaseline, rescaleKappa } from './rescale.ts';

export function learnGain(step: DetectorStep): void {
  const { memory, baseline, input, q } = step;
  const detector = input.scan.detector ?? baseline.inUse;
  if (detector === null) return;
  const gain = gainOf(step, detector);
  const book = baseline.detectors[detector] ?? newBook();
  const factor = gainFactor(book, gain);
  const last = baseline.first?.at(-1);
  if (factor !== 1 && last) {
    const noise = new Array<number>(q.length).fill(input.peaks.readNoisePa ** 2);
    const seen = commonStep(last, q, { masses: baseline.masses, variance: noise });
    // Heights that have not moved although the gain has: the gain itself had changed, and is now followed.
    if (seen ? isNearer(seen.factor, factor) : gain.from === 'record') {
      rescaleBaseline(baseline, () => factor);
      if (memory.state === 'base') rescaleKappa(memory, 1 / factor);
    }
  }
  baseline.detectors[detector] = { ...book, gain: gain.value ?? book.gain, measured: gain.from === 'pair' };
}
