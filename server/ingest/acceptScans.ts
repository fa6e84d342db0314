/** All scans of one request: each judged on its own, the good ones stored together, the others kept with their reason. */
import type { Sql } from 'postgres';
import type { ScanAnswer } from '../../shared/contract/scans.ts';
import { keepRejects, type Reject, type ScanRow, storeScans } from '../../shared/db/ingest.ts';
import { toPascal } from '../../shared/units.ts';
import { storable } from '../storableText.ts';
import { type AcceptedScan, type Judge, judgeScan, type KnownAnalyser } from './judgeScan.ts';
import type { Sent } from './parseScans.ts';

/** Of a rejected scan at most this much is kept. */
const MOST_KEPT_CHARACTERS = 64 * 1024;
const TAKEN = 'id: this analyser has already sent a scan with this id and other content';
const TAKEN_HERE = 'id: another scan of this request has the same id and other content';

export interface Accepting {
  sql: Sql;
  now: Date;
  /** Name of the sender's token. */
  token: string;
  mayFor: Judge['mayFor'];
  fitsSchema: Judge['fitsSchema'];
}

const field = (sent: Sent, name: string): string | null => {
  const value = 'value' in sent ? (sent.value as Record<string, unknown> | null)?.[name] : undefined;
  return typeof value === 'string' ? value : null;
};

export const knownAnalysers = async (sql: Sql, ids: readonly string[]): Promise<Map<string, KnownAnalyser>> => {
  const rows = await sql<(KnownAnalyser & { id: string })[]>`
    select id, chamber, coalesce(document ->> 'principle', 'quadrupole') as principle, retired_at is not null as retired
    from analysers where id = any(${[...new Set(ids)]}::text[])`;
  return new Map(rows.map((row) => [row.id, row]));
};

const asRow = (scan: AcceptedScan): ScanRow => ({
  ...scan,
  totalPressurePa: scan.totalPressure === null ? null : toPascal(scan.totalPressure.value, scan.totalPressure.unit),
});

interface Verdicts {
  duplicates: number;
  problems: Map<number, string>;
  /** First of each key, with its place in the request. */
  toStore: { index: number; scan: AcceptedScan }[];
}

const judgeAll = (sent: readonly Sent[], judge: Judge): Verdicts => {
  const verdicts: Verdicts = { duplicates: 0, problems: new Map(), toStore: [] };
  const byKey = new Map<string, AcceptedScan>();
  sent.forEach((one, index) => {
    const verdict = 'problem' in one ? one.problem : judgeScan(one.value, judge);
    if (typeof verdict === 'string') {
      verdicts.problems.set(index, verdict);
      return;
    }
    const key = `${verdict.analyser}\n${verdict.id}`;
    const earlier = byKey.get(key);
    if (earlier === undefined) {
      byKey.set(key, verdict);
      verdicts.toStore.push({ index, scan: verdict });
    } else if (earlier.digest.equals(verdict.digest)) verdicts.duplicates++;
    else verdicts.problems.set(index, TAKEN_HERE);
  });
  return verdicts;
};

const rejectOf = (sent: Sent, reject: { index: number; problem: string; token: string }): Reject => {
  const text = 'text' in sent ? sent.text : JSON.stringify(sent.value);
  const analyser = field(sent, 'analyser');
  const scanId = field(sent, 'id');
  return {
    token: reject.token,
    analyser: analyser === null ? null : storable(analyser, 200),
    scanId: scanId === null ? null : storable(scanId, 200),
    position: reject.index,
    problem: storable(reject.problem, 1000),
    body: storable(text, MOST_KEPT_CHARACTERS),
  };
};

/** Settles after everything accepted is committed. `chambers` are those that have something new to analyse. */
export const acceptScans = async (
  sent: readonly Sent[],
  options: Accepting,
): Promise<{ answer: ScanAnswer; chambers: string[] }> => {
  const { sql, now, token, mayFor, fitsSchema } = options;
  const ids = sent
    .map((one) => field(one, 'analyser'))
    .filter((id) => id !== null && id.length <= 64 && !id.includes('\0'));
  const analysers = await knownAnalysers(sql, ids as string[]);
  const { duplicates, problems, toStore } = judgeAll(sent, { now, analysers, mayFor, fitsSchema });
  const stored = await storeScans(
    sql,
    toStore.map(({ scan }) => asRow(scan)),
    now,
  );
  let accepted = 0;
  let known = duplicates;
  const chambers = new Set<string>();
  toStore.forEach(({ index, scan }, i) => {
    if (stored[i] === 'stored') {
      accepted++;
      chambers.add(scan.chamber);
    } else if (stored[i] === 'duplicate') known++;
    else problems.set(index, TAKEN);
  });
  const refused = [...problems].sort(([a], [b]) => a - b);
  const rejects = refused.map(([index, problem]) => rejectOf(sent[index] as Sent, { index, problem, token }));
  await keepRejects(sql, rejects, now);
  const rejected = refused.map(([index, problem]) => {
    const id = field(sent[index] as Sent, 'id');
    return { index, id: id === null ? null : storable(id, 200), problem };
  });
  return { answer: { accepted, duplicates: known, rejected }, chambers: [...chambers] };
};
