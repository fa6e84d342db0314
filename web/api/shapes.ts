/** Answers of the server that are not named in shared/contract: what this page reads of them. */
import type { Alert, AlertMove, ChangeSpectrum } from '../../shared/contract/alerts.ts';
import type { PumpDown } from '../../shared/contract/courses.ts';
import type { Chamber } from '../../shared/contract/fleet.ts';
import type { Rationalisation } from '../../shared/contract/rationalisation.ts';
import type { ChamberLine } from '../../shared/contract/readings.ts';
import type { Limit } from '../../shared/contract/round.ts';
import type { OperatingState, Role, Signature } from '../../shared/contract/words.ts';

export interface AnalyserDetail {
  readonly id: string;
  readonly principle: string | null;
  readonly massRange: readonly [number, number] | null;
  readonly version: number | string | null;
  readonly lastScanAt: string | null;
  readonly kappa: number | null;
  readonly floor: number | null;
  readonly decades: number | null;
  readonly notes: readonly { readonly code: string; readonly text: string }[];
}

export type ChamberDetail = ChamberLine & {
  readonly volumeLitres: number | null;
  readonly pumpingSpeedLitresPerSecond: Readonly<Record<string, number>> | null;
  readonly analysersDetail: readonly AnalyserDetail[];
  readonly document?: Pick<Chamber, 'gases'>;
  /** Null: none is going on. */
  readonly pumpDown: PumpDown | null;
};

export interface StateSpan {
  readonly from: string;
  readonly to: string | null;
  readonly state: OperatingState;
}

export interface BaselineGas {
  readonly median: number;
  readonly low: number;
  readonly high: number;
  readonly scans: number;
  readonly frozen: boolean;
}
export interface Baseline {
  readonly analyser: string;
  readonly state: OperatingState;
  readonly since: string;
  readonly until: string;
  readonly gases: Readonly<Record<string, BaselineGas>>;
}

export type AlertWithLife = Alert & {
  readonly moves: readonly AlertMove[];
  /** In force when the alert was last said; null: it is older than any record. */
  readonly rationalisation: Rationalisation | null;
  /** The version that has taken its place since; null: none has. */
  readonly newerRationalisation: number | null;
  readonly change: ChangeSpectrum | null;
};

export interface SignatureSheet {
  readonly signature: Signature;
  readonly title?: string;
  readonly meaning: string;
  readonly steps: readonly string[];
  readonly cautions: readonly string[];
}

export interface Limits {
  readonly limits: readonly Limit[];
}

export interface MadeTokenAnswer {
  readonly id: string;
  readonly token: string;
}

export interface NewTokenBody {
  readonly name: string;
  readonly role: Role;
  readonly analysers?: readonly string[];
}
