import { type PerGas, WORLD_GASES, type WorldGas } from './gases.ts';
import { inSeries, openingConductance } from './kinetics.ts';

export const PUMP_KINDS = ['turbo', 'ion', 'getter', 'cryo'] as const;
export type PumpKind = (typeof PUMP_KINDS)[number];

export interface Pump {
  readonly kind: PumpKind;
  /** For nitrogen, at the pump's own flange. */
  readonly litresPerSecond: number;
}

/**
 * Speed for a gas over the speed for nitrogen. Round figures, invented for the example after common practice: turbo
 * pumps lose a little at both ends of the mass scale, ion pumps hardly move noble gases, getters no noble gas and no
 * methane, cryopumps freeze water at the full inlet and hold helium hardly at all.
 */
const RELATIVE_SPEED: Readonly<Record<PumpKind, PerGas>> = {
  turbo: {
    H2: 0.8,
    He: 0.9,
    CH4: 1.05,
    H2O: 1.1,
    CO: 1,
    N2: 1,
    O2: 0.98,
    Ar: 0.95,
    CO2: 0.9,
    C3H6: 0.9,
    oil: 0.45,
    CF4: 0.75,
    NF3: 0.8,
    SF6: 0.65,
  },
  ion: {
    H2: 2,
    He: 0.15,
    CH4: 0.9,
    H2O: 1.1,
    CO: 1,
    N2: 1,
    O2: 0.6,
    Ar: 0.22,
    CO2: 1,
    C3H6: 0.9,
    oil: 0.5,
    CF4: 0.3,
    NF3: 0.6,
    SF6: 0.3,
  },
  getter: {
    H2: 3.2,
    He: 0,
    CH4: 0,
    H2O: 1.6,
    CO: 2.1,
    N2: 1,
    O2: 2.2,
    Ar: 0,
    CO2: 1.9,
    C3H6: 0.05,
    oil: 0.1,
    CF4: 0,
    NF3: 0.2,
    SF6: 0,
  },
  cryo: {
    H2: 1.4,
    He: 0.04,
    CH4: 1,
    H2O: 2.7,
    CO: 1,
    N2: 1,
    O2: 0.95,
    Ar: 0.84,
    CO2: 0.85,
    C3H6: 0.8,
    oil: 0.4,
    CF4: 0.6,
    NF3: 0.7,
    SF6: 0.5,
  },
};

/** Speed at the chamber for one gas: each pump behind its own port, side by side. */
export function speedAtChamber(pumps: readonly Pump[], portCm2: number, gas: WorldGas): number {
  const PORT_KELVIN = 295.15;
  const port = openingConductance(gas, portCm2, PORT_KELVIN);
  return pumps.reduce((sum, pump) => sum + inSeries(pump.litresPerSecond * RELATIVE_SPEED[pump.kind][gas], port), 0);
}

export function speedsAtChamber(pumps: readonly Pump[], portCm2: number): PerGas {
  return Object.fromEntries(WORLD_GASES.map((gas) => [gas, speedAtChamber(pumps, portCm2, gas)])) as unknown as PerGas;
}
