import type { InstrumentMemory, InstrumentView } from '../types.ts';
import { type AllanMemory, allanSigmas } from './allan.ts';
import { type KappaMemory, kappaIsSteady, kappaSpread } from './kappa.ts';
import { knownLookAlikes } from './lookAlikes.ts';
import { readMemory, short } from './memory.ts';
import { knownNoise } from './noise.ts';

/** What has been learned of an analyser, for people; null: no scan yet. */
export function instrumentView(memory: InstrumentMemory | null): InstrumentView | null {
  if (memory === null) return null;
  const { settings, gain, scale, kappa, allan, lookAlikes } = readMemory(memory);
  if (settings.length === 0) return null;
  const latest = settings[0]!;
  const noise = knownNoise(latest.noise);
  return {
    gain: gain?.measured ?? null,
    massScale:
      scale === null
        ? null
        : { offsetU: scale.offsetU, usualOffsetU: scale.usualOffsetU, slope: scale.slope, atMs: scale.atMs },
    noise:
      noise === null || latest.paPerUnit === null
        ? null
        : { sigmaPa: short(noise.sigma * latest.paPerUnit), scans: noise.scans },
    kappa: kappa === null ? null : kappaView(kappa),
    allan: allan === null ? null : allanView(allan),
    lookAlikes: knownLookAlikes(lookAlikes),
  };
}

const kappaView = (kappa: KappaMemory): InstrumentView['kappa'] => ({
  usual: short(Math.exp(kappa.centre)),
  spread: short(kappaSpread(kappa), 4),
  scans: kappa.scans,
  sinceMs: kappa.sinceMs,
  atMs: kappa.atMs,
  steady: kappaIsSteady(kappa),
});

function allanView(allan: AllanMemory): InstrumentView['allan'] {
  const sigmas = allanSigmas(allan);
  if (allan.periodMs === null) return null;
  return {
    periodSeconds: allan.periodMs / 1000,
    averages: allan.averages,
    sinceMs: allan.sinceMs,
    scans: allan.octaves.map((_, k) => 2 ** k),
    masses: allan.masses.map((mass, m) => ({ mass, sigmaPa: sigmas[m]! })).sort((a, b) => a.mass - b.mass),
  };
}
