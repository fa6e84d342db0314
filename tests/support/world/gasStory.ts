/** What is let in without being announced: handbook gases beside what a process chamber always shows, minute by minute. */
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { draftOf } from '../../../shared/watch/memory.ts';
import type { WatchContext, WatchMemory } from '../../../shared/watch/types.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import { peaks, watched } from './frames.ts';
import { makeRandom } from './random.ts';

/**
 * Peaks in per cent of the largest. Nitrogen, argon, oxygen, carbon dioxide at 70 eV: handbook values, rounded (from
 * memory); NF3: V. Tarnovsky et al., Int. J. Mass Spectrom. Ion Process. 133 (1994) 175. Air: shares of the US Standard
 * Atmosphere 1976, argon ionised 1.2 times as nitrogen (common practice).
 */
export const N2 = { 28: 100, 14: 9, 29: 0.7 };
export const AR = { 40: 100, 20: 12, 36: 0.34 };
export const NF3 = { 52: 100, 33: 66.7, 71: 33.3, 19: 28.6, 14: 9.5 };
export const CO2 = { 44: 100, 28: 11, 16: 9, 12: 6, 45: 1.2 };
export const AIR = { 28: 100, 14: 9, 29: 0.7, 32: 24, 16: 3, 40: 1.44, 20: 0.17 };

export type Change = Readonly<Record<number, number>>;
export const both = (a: Change, b: Change): Change => {
  const out: Record<number, number> = { ...a };
  for (const [mass, height] of Object.entries(b)) out[Number(mass)] = (out[Number(mass)] ?? 0) + height;
  return out;
};

const chamber = watched(61, { kind: 'process', unit: 'mbar' });
const usual = chamber.last.peaks.heightPa.reduce((sum, height) => sum + Math.max(0, height), 0);
/** So many times the usual total, of this gas. */
export const times = (factor: number, gas: Change): Change => {
  const sum = Object.values(gas).reduce((a, b) => a + b, 0);
  return peaks(gas, (100 / sum) * factor * usual);
};

/** Scans of a minute: what is let in beside what the chamber always shows, and the state that is sent. */
export function story(gases: readonly string[]) {
  const context: WatchContext = { ...chamber.context, chamber: { ...chamber.context.chamber, gases: [...gases] } };
  const analyser = makeAnalyser(context.calibration, catalogueFor(gases));
  const random = makeRandom(7);
  const { scan } = chamber.last;
  const { first } = scan.masses as { readonly first: number };
  const unitPerPa = scan.values[28 - first]! / chamber.last.peaks.heightPa[chamber.last.peaks.masses.indexOf(28)]!;
  const { variance } = draftOf(chamber.memory)!.baselines.base!;
  const readNoise = 0.5 * Math.sqrt(Math.min(...variance.slice(1))) * unitPerPa;
  let memory: WatchMemory = chamber.memory;
  let minute = 0;
  const states: string[] = [];
  const raised: string[] = [];
  const go = (minutes: number, state: string, change: Change = {}, growth = 1) => {
    for (let i = 0; i < minutes; i++) {
      minute++;
      const added = growth ** i;
      const values = scan.values.map((value, k) => {
        const clean = value + (change[first + k] ?? 0) * added * unitPerPa;
        return clean * (1 + 0.003 * random.normal()) + readNoise * random.normal();
      });
      const total = Object.values(change).reduce((a, b) => a + b, 0) * added;
      const sent = {
        ...scan,
        id: `m${minute}`,
        atMs: scan.atMs + minute * 60_000,
        state,
        values,
        totalPressurePa: scan.totalPressurePa! * (1 + total / usual) * (1 + 0.003 * random.normal()),
      };
      const step = watchScan(memory, context, { scan: sent, ...analyser.analyse(sent) });
      memory = step.memory;
      if (states.at(-1)?.split(' ')[0] !== step.state) states.push(`${step.state} ${minute}`);
      for (const event of step.events) if (event.kind === 'raised') raised.push(`${event.signature} ${minute}`);
    }
  };
  return { go, states, raised, memory: () => draftOf(memory)! };
}
