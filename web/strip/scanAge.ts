import type { ChamberLine } from '../../shared/contract/readings.ts';

/** How old the last scan is at `nowMs`; zero where none has come, which says so by itself. */
export const secondsSinceScan = ({ lastScanAt }: Pick<ChamberLine, 'lastScanAt'>, nowMs: number): number =>
  lastScanAt === null ? 0 : (nowMs - Date.parse(lastScanAt)) / 1000;
