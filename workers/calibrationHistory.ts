/** One analyser's calibration at any instant of its past: the fleet document of that time, and what lay over it. */
import type { Calibration } from '../shared/analysis/types.ts';
import { calibrationsOverTime } from '../shared/db/calibrationInForce.ts';
import { readInForce } from '../shared/db/calibrations.ts';
import { documentAt, type PastDocument, readAnalyser, readPastDocuments } from '../shared/db/fleetHistory.ts';
import type { Workshop } from './analyseChamber.ts';

export interface CalibrationHistory {
  readonly at: (atMs: number) => Calibration;
  /** Instants at which another calibration may begin, ms since 1970. */
  readonly turnsMs: readonly number[];
}

type Sources = Pick<Workshop, 'database' | 'pastDocuments'>;

const documentsOf = async ({ database, pastDocuments }: Sources, analyser: string) => {
  const standing = await readAnalyser(database.sql, analyser);
  if (standing === null) return null;
  // The first document has no past.
  if (standing.version === 1) return [{ ...standing, fromMs: 0 }];
  const key = `${analyser}/${standing.version}`;
  const known = pastDocuments.get(key);
  if (known) return known;
  const read: readonly PastDocument[] | null = await readPastDocuments(database.sql, analyser);
  if (read) pastDocuments.set(key, read);
  return read;
};

/** @returns null where the fleet never knew the analyser */
export const readCalibrationHistory = async (shop: Sources, analyser: string): Promise<CalibrationHistory | null> => {
  const { sql } = shop.database;
  const [documents, rows] = await Promise.all([documentsOf(shop, analyser), readInForce(sql, [analyser])]);
  if (documents === null) return null;
  const overTime = new Map(documents.map((document) => [document, calibrationsOverTime(document, rows)] as const));
  const spans = rows.flatMap(({ validFrom, validTo }) => [validFrom, validTo]);
  return {
    at: (atMs) => {
      const calibrationAt = overTime.get(documentAt(documents, atMs));
      if (calibrationAt === undefined) throw new Error(`Analyser ${analyser} has no calibration`);
      return calibrationAt(atMs);
    },
    turnsMs: [
      ...documents.map(({ fromMs }) => fromMs),
      ...spans.flatMap((time) => (time === null ? [] : [time.getTime()])),
    ],
  };
};
