/** Many scans of one analyser: phantoms that stay, and whether the product says that they may be fragments. */
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import { instrumentView } from '../../shared/analysis/instrument/view.ts';
import type { InstrumentMemory } from '../../shared/analysis/types.ts';
import { GASES } from '../../shared/catalogue/gases.ts';
import type { Catalogue } from '../../shared/catalogue/types.ts';
import type { Random } from '../support/instrument.ts';
import { SCENES, type Scene } from './accuracyScenes.ts';
import { record, settle } from './accuracySpectrum.ts';
import { makeWorld } from './accuracyWorld.ts';

export const SERIES_SCANS = 100;
/** A phantom in this share of the scans is one that stays. */
const STAYS = 0.5;
/** Standard deviation of ln(pressure) of each gas from scan to scan. */
const UNREST = 0.15;
const SCAN_MS = 60_000;

export interface Series {
  readonly scene: Scene;
  readonly random: Random;
  readonly catalogue: Catalogue;
  readonly analysers: number;
}

export interface SeriesResult {
  readonly analysers: number;
  /** Analysers that showed some absent gas in at least one scan, and in at least half of them. */
  readonly once: number;
  readonly staying: number;
  /** Of the phantoms that stay, those that are marked as look-alikes. */
  readonly noticed: number;
  readonly names: readonly string[];
}

export function longSeries({ scene, random, catalogue, analysers }: Series): SeriesResult {
  const result = { analysers, once: 0, staying: 0, noticed: 0, names: [] as string[] };
  for (let i = 0; i < analysers; i++) {
    const { seen, view } = oneAnalyser({ scene, random, catalogue, analysers: 1 });
    if (seen.size > 0) result.once++;
    const staying = [...seen].filter(([, times]) => times >= STAYS * SERIES_SCANS).map(([gas]) => gas);
    if (staying.length === 0) continue;
    result.staying++;
    if (staying.every((gas) => view?.lookAlikes.some((alike) => alike.gas === gas))) result.noticed++;
    result.names.push(...staying);
  }
  return result;
}

function oneAnalyser({ scene, random, catalogue }: Series) {
  const world = makeWorld(random, GASES, 'quadrupole');
  const base = SCENES[scene](random);
  const setting = settle({ random, world, chamber: base });
  const seen = new Map<string, number>();
  let memory: InstrumentMemory | null = null;
  for (let k = 0; k < SERIES_SCANS; k++) {
    const chamber = Object.fromEntries(
      Object.entries(base).map(([gas, pressure]) => [gas, pressure * Math.exp(UNREST * random.normal())]),
    );
    const { scan, calibration, truth } = record({ random, world, chamber, form: 'bars', setting });
    const { analysis, instrument } = makeAnalyser(calibration, catalogue).analyse(
      { ...scan, id: String(k), atMs: k * SCAN_MS },
      memory,
    );
    memory = instrument;
    for (const { gas, detected } of analysis.gases) {
      if (detected && (truth[gas] ?? 0) === 0) seen.set(gas, (seen.get(gas) ?? 0) + 1);
    }
  }
  return { seen, view: instrumentView(memory) };
}

export const seriesLine = (scene: Scene, { analysers, once, staying, noticed, names }: SeriesResult): string =>
  `${scene.padEnd(18)} some phantom in ${once} of ${analysers}, one that stays in ${staying} of ${analysers}` +
  `${staying > 0 ? ` (${names.join(', ')}), noticed in ${noticed}` : ''}`;
