import type { FleetDocument } from '../../shared/contract/fleet.ts';
import { PLANTS } from './chambers.ts';
import { EAST_BAY } from './eastBay.ts';
import { HERON_LINE } from './heronLine.ts';
import { INSTRUMENTS } from './instruments.ts';
import type { WorldGas } from './physics/gases.ts';
import { speedAtChamber } from './physics/pumps.ts';
import type { AnalyserDocument, ChamberDocument, Instrument, Plant } from './plant.ts';

/** An invented place. */
export const SITE_NAME = 'Marlecombe';

/** Gases whose speed an engineer would write down. */
const STATED_GASES: readonly WorldGas[] = ['N2', 'H2', 'He', 'CH4', 'H2O', 'O2', 'Ar', 'CO2'];

/** The fleet as its owner tells it: the same document every time. */
export function exampleFleet(): FleetDocument {
  return {
    areas: [
      { id: EAST_BAY, name: 'East bay', timeZone: 'Europe/London', shifts: ['06:00', '14:00', '22:00'] },
      { id: HERON_LINE, name: 'Heron beamline', timeZone: 'Europe/London', shifts: ['07:30', '19:30'] },
    ],
    chambers: PLANTS.map(chamberDocument),
    analysers: INSTRUMENTS.map(analyserDocument),
  };
}

function chamberDocument(plant: Plant): ChamberDocument {
  const speeds = STATED_GASES.map((gas) => [gas, speedAtChamber(plant.pumps, plant.portCm2, gas)] as const);
  return {
    id: plant.id,
    name: plant.name,
    area: plant.area,
    kind: plant.kind,
    volumeLitres: plant.volumeLitres,
    pumpingSpeedLitresPerSecond: Object.fromEntries(speeds.map(([gas, speed]) => [gas, twoDigits(speed)])),
    ...(plant.gases ? { gases: [...plant.gases] } : {}),
    tags: [...plant.tags],
  };
}

function analyserDocument(instrument: Instrument): AnalyserDocument {
  return {
    id: instrument.id,
    chamber: instrument.chamber,
    principle: instrument.principle,
    massRange: [instrument.firstMass, instrument.lastMass],
    ...(instrument.calibrated ? { sensitivityAmperesPerPascal: instrument.amperesPerPascal } : {}),
    ...(instrument.calibrated && instrument.gain > 1 ? { multiplierGain: instrument.gain } : {}),
    ...(instrument.statedTransmission === undefined ? {} : { transmissionExponent: instrument.statedTransmission }),
  };
}

/** Speeds are never known better. */
const twoDigits = (value: number): number => Number(value.toPrecision(2));
