/**
 * Science that does what a test tells it, for tests of what the workers do with answers, not of the answers. Its watch
 * remembers what it was told, so that a test can ask the stored memory.
 */
import type { AnalysisScan, Calibration, InstrumentMemory, Measurement } from '../../shared/analysis/types.ts';
import type { Signature } from '../../shared/contract/words.ts';
import type { Finding, WatchEvent, WatchMemory, WatchStep } from '../../shared/watch/types.ts';
import type { MarkedScience } from '../../workers/markedScience.ts';
import type { Science } from '../../workers/science.ts';

export interface Script {
  /** What the watch says of a scan. */
  readonly events?: (scan: AnalysisScan, closedByPerson: readonly Signature[]) => readonly WatchEvent[];
  /** May throw for a scan. */
  readonly analyse?: (scan: AnalysisScan, calibration: Calibration) => void;
  /** Over the stated measurement. */
  readonly measured?: (scan: AnalysisScan) => Partial<Measurement>;
  readonly watch?: (scan: AnalysisScan) => void;
  readonly marked?: Partial<MarkedScience>;
  readonly notes?: (scan: AnalysisScan) => WatchStep['notes'];
  readonly learnPinned?: Science['learnPinned'];
  readonly nameExample?: Science['nameExample'];
}

export interface ScriptedMemory extends WatchMemory {
  readonly scans: string[];
  readonly told: string[];
}

export const aFinding = (summary: string): Finding => ({
  summary,
  sureness: 'likely',
  firstStep: null,
  settle: null,
  evidence: [],
  alternatives: [],
});

export const raised = (
  atMs: number,
  signature: Signature,
  stated: Partial<Extract<WatchEvent, { kind: 'raised' }>> = {},
): WatchEvent => ({
  kind: 'raised',
  atMs,
  signature,
  gases: ['N2'],
  priority: 'medium',
  finding: aFinding(`${signature} stands`),
  ...stated,
});

export const returned = (atMs: number, signature: Signature): WatchEvent => ({ kind: 'returned', atMs, signature });

/** What the scripted analysis remembers: the ids of the scans it was handed on from, and with which calibration. */
export interface ScriptedInstrument extends InstrumentMemory {
  readonly scans: readonly string[];
  readonly versions: readonly string[];
}

const aMeasurement: Measurement = {
  detector: null,
  responseSeconds: 10,
  massScale: { offsetU: 0.05, slope: 0, pivot: 28 },
  widthU: { half: 0.8, tenth: 1.1, twentieth: 1.2 },
  readNoisePa: 1e-9,
  noiseFrom: 'empty masses',
  gain: null,
  noisePerGasPa: { N2: 1e-9 },
  foot: null,
  desorbed: [],
  ownGas: [],
  leftOut: [],
  groups: [],
  candidates: [],
};

const oneGas = { gas: 'N2', valuePa: 2e-7, lowPa: 1e-7, highPa: 3e-7, detected: true, sigmaPa: 5e-8 };

export const scriptedScience = (script: Script = {}): Science => ({
  catalogueVersion: 'scripted',
  analyserFor: (calibration) => ({
    analyse: (scan, memory = null) => {
      script.analyse?.(scan, calibration);
      const before = (memory ?? { scans: [], versions: [] }) as ScriptedInstrument;
      const peaks = {
        masses: [28],
        heightPa: Float64Array.of(2e-7),
        readNoisePa: 1e-9,
        shotPa: 0,
        scaled: true,
        notes: [],
      };
      return {
        peaks,
        analysis: {
          gases: [oneGas],
          sumPa: 2e-7,
          floorPa: 3e-9,
          decades: 1.8,
          unexplained: 0,
          kappa: null,
          chiSquarePerDof: 1,
          peaks: [
            {
              mass: 28,
              heightPa: 2e-7,
              sigmaPa: 1e-9,
              parts: [{ gas: 'N2', share: 1 }],
              unexplained: 0,
              residualPa: 1e-10,
            },
          ],
          notes: [],
          measurement: { ...aMeasurement, ...script.measured?.(scan) },
        },
        instrument: { scans: [...before.scans, scan.id], versions: [...before.versions, calibration.version] },
      };
    },
  }),
  watchScan: (memory, context, { scan }) => {
    script.watch?.(scan);
    const before = (memory ?? { scans: [], told: [] }) as ScriptedMemory;
    return {
      memory: { scans: [...before.scans, scan.id], told: [...before.told, ...context.closedByPerson] },
      events: script.events?.(scan, context.closedByPerson) ?? [],
      strip: [{ gas: 'N2', status: 'measured', decades: before.scans.length, halfWidth: 0.1 }],
      learning: null,
      state: scan.state,
      stateSinceMs: scan.atMs,
      periodSeconds: 60,
      notes: script.notes?.(scan) ?? [],
    };
  },
  instrumentView: (memory) =>
    memory && {
      gain: null,
      massScale: null,
      noise: { sigmaPa: 1e-9, scans: (memory as ScriptedInstrument).scans.length },
      kappa: null,
      allan: null,
      lookAlikes: [],
    },
  coursesView: () => ({ pumpDown: null, life: [] }),
  marked: {
    pattern: ({ gas, scans }) => ({
      ok: true,
      pattern: {
        gas,
        peaks: { 14: 7, 28: 100 },
        fragmentUncertainty: 0.03,
        responseAtLargest: 1,
        responseUncertainty: 0.1,
      },
      remarks: [`From ${scans.length} scans.`],
    }),
    background: () => ({
      ok: true,
      background: { peaks: { 28: { heightPa: 1e-9, sigmaPa: 1e-10 } }, unsteadiness: 0.2 },
      remarks: [],
    }),
    change: () => ({ ok: true, gases: [{ gas: 'N2', changePa: 1e-8, sigmaPa: 1e-9, significant: true }] }),
    ...script.marked,
  },
  baselines: (memory) => [
    {
      state: 'base',
      sinceMs: 0,
      untilMs: (memory as ScriptedMemory).scans.length,
      gases: { N2: { medianLog10Pa: -7, sigmaDecades: 0.02, halfWidthDecades: 0.06, scans: 1, frozen: false } },
      peaks: { 28: 2e-7 },
    },
  ],
  learnPinned: script.learnPinned ?? (() => ({ kind: 'refused', code: 'no-scans', reason: 'not scripted' })),
  nameExample: script.nameExample ?? (() => ({ right: false, rightInTwo: false, names: [], sureness: 'open' })),
});
