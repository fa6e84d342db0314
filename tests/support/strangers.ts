/**
 * Chambers that the product has not seen: short histories with known truth, for driving it from outside.
 *
 * Gas loads wander slowly, the analyser has fragment patterns of its own (each fragment off by a log-normal factor),
 * a sensitivity error per gas, a mass-dependent transmission nobody told, read and shot noise, a low-mass foot and
 * electron-stimulated ions. It shares the catalogue's numbers with the product as its starting point, nothing else.
 */
import { GASES } from '../../shared/catalogue/gases.ts';

export const seeded = (seed: number) => {
  let s = seed >>> 0;
  const uniform = () => {
    s = (s + 0x6d2b79f5) | 0;
    let t = Math.imul(s ^ (s >>> 15), 1 | s);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal, between: (a: number, b: number) => a + (b - a) * uniform() };
};

export type Gases = Record<string, number>;

export interface Stranger {
  readonly id: string;
  readonly seed: number;
  /** Partial pressures at rest, Pa. */
  readonly rest: Gases;
  readonly unit: 'A' | 'Pa' | 'mbar' | 'Torr' | '1';
  readonly perUnit?: number;
  readonly lastMass?: number;
  readonly ownGases?: string[];
  readonly gauge?: boolean;
  /** Relative spread of each fragment. */
  readonly spread?: number;
  readonly speeds?: Record<string, number>;
  /** What is added (Pa) or changed at a time, minutes before the end; `gaugeFactor` falsifies the gauge. */
  readonly change?: (minutesToEnd: number) => {
    add?: Gases;
    factor?: Gases;
    state?: string;
    gaugeFactor?: number;
    peaks?: Record<number, number>;
    missing?: boolean;
  };
}

const byId = new Map(GASES.map((gas) => [gas.id, gas]));
const n2Share = 100 / (byId.get('N2')?.primarySum ?? 114.53);

const patternOf = (stranger: Stranger, last: number) => {
  const random = seeded(stranger.seed * 7919 + 1);
  const tilt = 0.15 * random.normal();
  const spread = stranger.spread ?? 0.2;
  return new Map(
    GASES.map((gas) => {
      const peaks = gas.records[0].peaks;
      const sensitivity = gas.id === 'N2' ? 1 : Math.exp(0.12 * random.normal());
      const own = new Map<number, number>();
      for (const [key, height] of Object.entries(peaks)) {
        const mass = Number(key);
        const factor = height >= 100 ? 1 : Math.exp(spread * random.normal());
        if (mass <= last)
          own.set(
            mass,
            ((gas.relativeSensitivity.value * sensitivity * factor * height) / gas.primarySum / n2Share) *
              (28 / mass) ** tilt,
          );
      }
      return [gas.id, own] as const;
    }),
  );
};

/** Scans of one chamber, oldest first, every `periodSeconds` up to `endMs`. */
export const scansOf = (stranger: Stranger, options: { endMs: number; minutes: number; periodSeconds: number }) => {
  const random = seeded(stranger.seed);
  const last = stranger.lastMass ?? 100;
  const patterns = patternOf(stranger, last);
  const perUnit = stranger.perUnit ?? 1;
  const total = Object.values(stranger.rest).reduce((a, b) => a + b, 0);
  const read = total * 10 ** -random.between(4.5, 5.3);
  const shot = total * 2e-6;
  const gaugeError = Math.exp(0.08 * random.normal());
  const wander = new Map(Object.keys(stranger.rest).map((gas) => [gas, 0]));
  const count = Math.floor((options.minutes * 60) / options.periodSeconds);
  const out = [];
  for (let i = 0; i <= count; i++) {
    const atMs = options.endMs - (count - i) * options.periodSeconds * 1000;
    const change = stranger.change?.((options.endMs - atMs) / 60_000) ?? {};
    const pressures: Gases = {};
    for (const [gas, rest] of Object.entries(stranger.rest)) {
      const w = 0.98 * (wander.get(gas) ?? 0) + 0.005 * random.normal();
      wander.set(gas, w);
      pressures[gas] = rest * Math.exp(w) * (change.factor?.[gas] ?? 1);
    }
    for (const [gas, add] of Object.entries(change.add ?? {})) pressures[gas] = (pressures[gas] ?? 0) + add;
    const heights = new Float64Array(last + 1);
    let gauge = 0;
    for (const [gas, pressure] of Object.entries(pressures)) {
      gauge += pressure * (byId.get(gas)?.relativeSensitivity.value ?? 1);
      for (const [mass, s] of patterns.get(gas) ?? []) heights[mass] = (heights[mass] ?? 0) + pressure * s;
    }
    for (const [mass, height] of Object.entries(change.peaks ?? {}))
      heights[Number(mass)] = (heights[Number(mass)] ?? 0) + height * total;
    for (let m = 1; m <= 5; m++) heights[m] = (heights[m] ?? 0) + total * 1e-3 * Math.exp(-(m - 1) / 0.7);
    heights[16] = (heights[16] ?? 0) + total * 5e-4;
    const noisy = (height: number) => height + Math.sqrt(read * read + shot * Math.max(height, 0)) * random.normal();
    const scale = { A: 7.5e-7, Pa: 1, mbar: 0.01, Torr: 760 / 101325, '1': 1 / total }[stranger.unit];
    const values: number[] = [];
    if (perUnit === 1)
      for (let m = 1; m <= last; m++) values.push(Number((noisy(heights[m] ?? 0) * scale).toPrecision(5)));
    else
      for (let k = 0; k <= (last - 1) * perUnit; k++) {
        const mass = 1 + k / perUnit;
        let y = 0;
        for (const m of [Math.floor(mass - 0.5), Math.floor(mass + 0.5), Math.ceil(mass + 0.5)])
          if (m >= 1 && m <= last) y += (heights[m] ?? 0) * Math.exp(-0.5 * ((mass - m - 0.06) / 0.18) ** 2);
        values.push(Number((noisy(y) * scale).toPrecision(5)));
      }
    if (change.missing) continue;
    out.push({
      analyser: `${stranger.id}-a`,
      id: `${stranger.id}-${atMs}`,
      at: new Date(atMs).toISOString(),
      seconds: Math.min(30, options.periodSeconds / 2),
      masses: { first: 1, last, perUnit },
      values,
      unit: stranger.unit,
      ...(stranger.gauge === false && stranger.unit !== '1'
        ? {}
        : {
            totalPressure: {
              value: Number(
                (gauge * gaugeError * (change.gaugeFactor ?? 1) * Math.exp(0.01 * random.normal()) * 0.01).toPrecision(
                  3,
                ),
              ),
              unit: 'mbar' as const,
            },
          }),
      ...(change.state ? { state: change.state } : {}),
    });
  }
  return out;
};

/** The fleet document for these chambers. */
export const fleetOf = (strangers: readonly Stranger[]) => ({
  areas: [{ id: 'hall', name: 'Far hall', timeZone: 'Europe/Lisbon', shifts: ['06:00', '14:00', '22:00'] }],
  chambers: strangers.map((s) => ({
    id: s.id,
    name: s.id,
    area: 'hall',
    kind: 'test stand',
    volumeLitres: 60,
    pumpingSpeedLitresPerSecond: s.speeds ?? { N2: 200 },
    ...(s.ownGases ? { gases: s.ownGases } : {}),
  })),
  analysers: strangers.map((s) => ({
    id: `${s.id}-a`,
    chamber: s.id,
    principle: s.unit === '1' ? ('ion trap' as const) : ('quadrupole' as const),
    massRange: [1, s.lastMass ?? 100],
    ...(s.unit === 'A' ? { sensitivityAmperesPerPascal: 7.5e-7 } : {}),
  })),
});
