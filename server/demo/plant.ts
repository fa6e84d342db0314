/** What a chamber and its analyser of the example really are; the fleet document tells the product only a part of it. */
import type { Analyser, Chamber } from '../../shared/contract/fleet.ts';
import type { OperatingState, PressureUnit } from '../../shared/contract/words.ts';
import type { SomeGases } from './physics/gases.ts';
import type { HallClimate } from './physics/hall.ts';
import type { Pump } from './physics/pumps.ts';

/** Something that comes round all day: gas on, a wafer moved. Minutes are counted from midnight UTC. */
export interface Cycle {
  readonly state: OperatingState;
  readonly everyMinutes: number;
  readonly startMinute: number;
  readonly lastsMinutes: number;
  /** What flows in while it lasts, Pa l/s. */
  readonly flow: SomeGases;
  /** Share of the flow that walls and pump give back at first when it is over. */
  readonly memory: number;
  readonly memoryMinutes: number;
}

export interface Plant {
  readonly id: string;
  readonly name: string;
  readonly area: string;
  readonly kind: string;
  readonly tags: readonly string[];
  readonly gases?: readonly string[];
  readonly volumeLitres: number;
  readonly wallCm2: number;
  /** Elastomer seals, centimetres of cord. */
  readonly sealCm: number;
  readonly pumps: readonly Pump[];
  readonly portCm2: number;
  readonly baked: boolean;
  /** Days under vacuum when the history begins, unless a story says otherwise. */
  readonly daysSinceVent: number;
  /** Air that always comes in somewhere, Pa l/s. */
  readonly standingLeakPaLitresPerSecond: number;
  readonly cycles?: readonly Cycle[];
  readonly climate: HallClimate;
  /** How much its loads and its pumps wander, over what is usual. Default 1. */
  readonly unrest?: number;
  /** Whether the gateway sends the hall temperature along. */
  readonly tellsTemperature: boolean;
  readonly gaugeUnit: PressureUnit;
}

/** What has to be said of each chamber; the rest is as in its area. */
export type OwnPlant = Pick<
  Plant,
  'id' | 'name' | 'kind' | 'volumeLitres' | 'wallCm2' | 'sealCm' | 'pumps' | 'portCm2'
> &
  Partial<Plant>;

export interface Instrument {
  readonly id: string;
  readonly chamber: string;
  readonly principle: NonNullable<Analyser['principle']>;
  readonly firstMass: number;
  readonly lastMass: number;
  readonly perUnit: number;
  readonly unit: 'A' | 'mbar' | 'Torr' | 'Pa' | '1';
  readonly detector?: 'faraday' | 'multiplier';
  readonly sweepSeconds: number;
  readonly averages: number;
  /** Faraday current for nitrogen, A/Pa. */
  readonly amperesPerPascal: number;
  readonly gain: number;
  /** Whether the fleet document tells the sensitivity. */
  readonly calibrated: boolean;
  /** One sigma of the electrometer on one point, A. */
  readonly readNoiseAmperes: number;
  /** t of (28/m)^t that the fleet document tells. */
  readonly statedTransmission?: number;
  /** Gas that its own hot parts give off, as N2-equivalent Pa at the ioniser. */
  readonly ownGasPa: number;
  /** Largest current that the input takes, A. */
  readonly fullScaleAmperes: number;
  /** Share of `gain` that the multiplier has left; the fleet document does not tell. Default 1. */
  readonly multiplierLeft?: number;
  /** Every so many minutes from midnight UTC a scan is taken on the Faraday cup instead. */
  readonly faradayEveryMinutes?: number;
  /** How fast its mass scale slides since the history began, units a day. */
  readonly massSlideUnitsPerDay?: number;
}

export type ChamberDocument = Chamber;
export type AnalyserDocument = Analyser;
