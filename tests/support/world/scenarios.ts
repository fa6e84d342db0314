/**
 * Short stories by name: half an hour or more of quiet, then something happens. The catalogue of signatures names one
 * that must fire and one near miss for every signature; the test of the signatures runs them.
 */
import type { WatchContext } from '../../../shared/watch/types.ts';
import type { RunOptions } from '../world.ts';
import { DAY, HOUR, type World, type WorldOptions } from './chamber.ts';
import type { Fault } from './faults.ts';

export interface Scenario {
  readonly world: WorldOptions;
  readonly options: (world: World) => RunOptions;
  readonly limits?: (world: World) => WatchContext['limits'];
}

const MINUTE = 60;
const FROM = 40 * MINUTE;
const fast: WorldOptions = { periodSeconds: MINUTE, hasGauge: true };
const calm = { quietTimetable: true, mishaps: false } as const;

/** Forty quiet minutes, then thirty with the fault. */
const then = (fault: Omit<Fault, 'fromSeconds'>): Scenario => ({
  world: fast,
  options: () => ({ ...calm, days: (FROM + 30 * MINUTE) / DAY, fault: { ...fault, fromSeconds: FROM } }),
});

/** Two calm days at five minutes a scan, and then something happens that is no fault. */
const later = (happens: (at: number) => Partial<RunOptions>): Scenario => ({
  world: { ...fast, periodSeconds: 300 },
  options: () => ({ ...calm, days: 3, ...happens(2 * DAY) }),
});

const withLimit = (factor: number): Scenario => ({
  ...then({ kind: 'water', size: 3 }),
  limits: (world) => [{ gas: 'H2O', limitPa: world.pressures.H2O! * factor, priority: 'medium' }],
});

const inState = (state: string, fault: Omit<Fault, 'fromSeconds'>): Scenario => ({
  world: fast,
  options: () => ({
    ...calm,
    days: (FROM + 40 * MINUTE) / DAY,
    fault: { ...fault, fromSeconds: FROM, untilSeconds: FROM + 20 * MINUTE },
    spans: [{ from: FROM - 5 * MINUTE, to: FROM + 20 * MINUTE, state }],
  }),
});

/** Five vents, two days apart, each with twelve hours of declared pump-down; something may be wrong with the last. */
const fiveVents = (fault?: Omit<Fault, 'fromSeconds'>): Scenario => {
  const vents = [1, 3, 5, 7, 9].map((day) => day * DAY);
  const spans = vents.flatMap((from) => [
    { from, to: from + 3 * HOUR, state: 'vented' },
    { from: from + 3 * HOUR, to: from + 15 * HOUR, state: 'pump-down' },
  ]);
  return {
    world: { kind: 'unbaked', periodSeconds: 1200, hasGauge: true },
    options: () => ({
      days: 9.7,
      spans,
      mishaps: false,
      ...(fault && { fault: { ...fault, fromSeconds: vents.at(-1)! } }),
    }),
  };
};

export const SCENARIOS: Readonly<Record<string, Scenario>> = {
  air: then({ kind: 'air', size: 10, oxygen: 0.8 }),
  'air without oxygen': then({ kind: 'air-eaten', size: 10 }),
  'puff of air in one scan': {
    world: fast,
    options: () => ({
      ...calm,
      days: (FROM + 20 * MINUTE) / DAY,
      fault: { kind: 'air', size: 30, fromSeconds: FROM, untilSeconds: FROM + MINUTE },
    }),
  },
  'nitrogen line': then({ kind: 'line-N2', size: 10 }),
  'argon line': then({ kind: 'line-Ar', size: 10 }),
  'sulfur hexafluoride line': { ...then({ kind: 'line-SF6', size: 0.01 }), world: { ...fast, lastMass: 150 } },
  'declared gas step': {
    world: { ...fast, kind: 'process' },
    options: () => ({
      ...calm,
      days: (FROM + 3 * HOUR) / DAY,
      spans: [{ from: FROM, to: FROM + HOUR, state: 'gas-on' }],
    }),
  },
  water: then({ kind: 'water', size: 2 }),
  'hall four kelvin warmer': later((at) => ({ heat: { from: at, to: at + DAY, kelvin: 4 } })),
  oil: then({ kind: 'oil', size: 0.05 }),
  perfluoropolyether: { ...then({ kind: 'pfpe', size: 0.03 }), world: { ...fast, lastMass: 150 } },
  silicone: { ...then({ kind: 'silicone', size: 0.03 }), world: { ...fast, lastMass: 150 } },
  acetone: then({ kind: 'acetone', size: 0.05 }),
  helium: then({ kind: 'helium', size: 30 }),
  'helium in a leak check': inState('leak-check', { kind: 'helium', size: 30 }),
  hydrogen: then({ kind: 'hydrogen', size: 3 }),
  'carbon monoxide': then({ kind: 'CO', size: 2 }),
  methane: then({ kind: 'methane', size: 3 }),
  'argon bursts': {
    world: { ...fast, periodSeconds: 300 },
    options: () => ({ ...calm, days: 1.5, fault: { kind: 'argon-bursts', size: 30, fromSeconds: 0.5 * DAY } }),
  },
  'pumping loss': then({ kind: 'pumping', size: 2 }),
  'analyser eight per cent up': later((at) => ({ gainStep: { at, by: 0.08 } })),
  'analyser eight per cent down': later((at) => ({ gainStep: { at, by: -0.08 } })),
  'weak pump after a vent': fiveVents({ kind: 'pumping', size: 14 }),
  'fifth pump-down like the others': fiveVents(),
  'water above its limit': withLimit(1.6),
  'water below its limit': withLimit(20),
  'unknown gas': then({ kind: 'unknown', size: 0.05 }),
  'one spiked peak': {
    world: fast,
    options: () => ({ ...calm, days: (FROM + 20 * MINUTE) / DAY, spike: { at: FROM, mass: 57, scans: 1 } }),
  },
  'frozen values': then({ kind: 'frozen', size: 1 }),
  'one repeated scan': {
    world: fast,
    options: () => ({ days: (4 * HOUR) / DAY, quietTimetable: true, mishaps: true }),
  },
  'mass scale': { ...then({ kind: 'mass-shift', size: 0.25 }), world: { ...fast, kind: 'baked' } },
  'gain loss': then({ kind: 'gain', size: 0.5 }),
  'gauge falls to a third': then({ kind: 'gauge', size: 0.33 }),
  'gauge twelve per cent up': then({ kind: 'gauge', size: 1.12 }),
  'saturated detector': then({ kind: 'saturated', size: 1 }),
  'steady top peak': { world: fast, options: () => ({ ...calm, days: (2 * HOUR) / DAY }) },
  'ioniser gas': then({ kind: 'ioniser', size: 3 }),
  'noisy scans': then({ kind: 'noise', size: 5 }),
};
