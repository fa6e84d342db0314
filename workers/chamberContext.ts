/** What the database says of one chamber when a batch begins: document, analysers, limits, closes, memories. */
import type { Sql } from 'postgres';
import type { Calibration } from '../shared/analysis/types.ts';
import type { Analyser, Chamber } from '../shared/contract/fleet.ts';
import type { Signature } from '../shared/contract/words.ts';
import { unpackMemory } from '../shared/db/memory.ts';
import type { Log } from '../shared/log.ts';
import type { WatchContext, WatchMemory } from '../shared/watch/types.ts';
import type { Remembered } from './remembered.ts';

/** An alert that a person has closed and of which these analysers' watch has yet to be told. */
export interface UntoldClose {
  readonly alert: string;
  readonly signature: Signature;
  readonly heldBy: readonly string[];
}

export interface WatchState {
  /** Null: nothing was judged yet. */
  readonly memory: WatchMemory | null;
  readonly judgedToMs: number;
  /** 0: no row yet. */
  readonly version: number;
}

export interface ChamberContext {
  readonly chamber: WatchContext['chamber'];
  readonly calibrations: ReadonlyMap<string, Calibration>;
  readonly limits: WatchContext['limits'];
  readonly untoldCloses: readonly UntoldClose[];
  readonly watches: ReadonlyMap<string, WatchState>;
}

interface ContextRow {
  chamber: { name: string; kind: string | null; document: Chamber } | null;
  analysers: { id: string; version: number; document: Analyser }[];
  limits: WatchContext['limits'];
  closes: UntoldClose[];
}

interface MemoryRow {
  analyser: string;
  judgedTo: Date;
  version: number;
  memory: Buffer | null;
}

export const calibrationOf = (analyser: { id: string; version: number; document: Analyser }): Calibration => {
  const { id, version, document } = analyser;
  return {
    analyser: id,
    principle: document.principle ?? 'quadrupole',
    massRange: document.massRange ? [document.massRange[0] as number, document.massRange[1] as number] : null,
    sensitivityAmperesPerPascal: document.sensitivityAmperesPerPascal ?? null,
    multiplierGain: document.multiplierGain ?? null,
    transmissionExponent: document.transmissionExponent ?? 0,
    version: `${id}/${version}`,
  };
};

/** A memory that this process has just written is not read back: its version says that it is the same. */
const readMemories = (sql: Sql, chamber: string, known: ReadonlyMap<string, Remembered>) => sql<MemoryRow[]>`
  select m.analyser, m.judged_to as "judgedTo", m.version, case when k.version is null then m.memory end as memory
  from watch_memory m left join unnest(
    ${[...known.keys()]}::text[], ${[...known.values()].map(({ version }) => version)}::int[]
  ) as k (analyser, version) on k.analyser = m.analyser and k.version = m.version
  where m.chamber = ${chamber}`;

const readDocuments = (sql: Sql, chamber: string, analysers: readonly string[]) => sql<ContextRow[]>`
  select
    (select jsonb_build_object('name', name, 'kind', kind, 'document', document) from chambers
      where id = ${chamber}) as chamber,
    (select coalesce(jsonb_agg(jsonb_build_object('id', id, 'version', version, 'document', document)), '[]')
      from analysers where id = any(${analysers as string[]})) as analysers,
    (select coalesce(jsonb_agg(jsonb_build_object('gas', gas, 'limitPa', limit_pa, 'priority', priority)
      order by gas), '[]') from limits where chamber = ${chamber}) as limits,
    (select coalesce(jsonb_agg(jsonb_build_object('alert', id, 'signature', signature, 'heldBy', held_by)), '[]')
      from alerts where chamber = ${chamber} and state = 'normal' and held_by <> '{}') as closes`;

/** A memory that cannot be read is lost learning, not a reason to stop watching: the watch begins anew. */
const memoryOf = ({ analyser, memory }: MemoryRow, asked: Asked): WatchMemory | null => {
  if (!memory) return asked.known.get(analyser)?.memory ?? null;
  try {
    return unpackMemory(memory);
  } catch (error) {
    asked.log.error(
      { chamber: asked.chamber, analyser, error },
      'The memory of the watch cannot be read: it begins anew',
    );
    return null;
  }
};

interface Asked {
  readonly chamber: string;
  /** Those with scans in the batch, whose documents are wanted. */
  readonly analysers: readonly string[];
  /** Memories that this process holds, by analyser. */
  readonly known: ReadonlyMap<string, Remembered>;
  readonly log: Log;
}

export const readContext = async (sql: Sql, asked: Asked): Promise<ChamberContext> => {
  const [documents, memories] = await Promise.all([
    readDocuments(sql, asked.chamber, asked.analysers),
    readMemories(sql, asked.chamber, asked.known),
  ]);
  const row = documents[0] as ContextRow;
  const document = row.chamber?.document;
  return {
    chamber: {
      id: asked.chamber,
      name: row.chamber?.name ?? asked.chamber,
      kind: row.chamber?.kind ?? null,
      volumeLitres: document?.volumeLitres ?? null,
      pumpingSpeedLitresPerSecond: document?.pumpingSpeedLitresPerSecond ?? {},
      gases: document?.gases ?? [],
    },
    calibrations: new Map(row.analysers.map((analyser) => [analyser.id, calibrationOf(analyser)])),
    limits: row.limits,
    untoldCloses: row.closes,
    watches: new Map(
      memories.map((row) => [
        row.analyser,
        { memory: memoryOf(row, asked), judgedToMs: row.judgedTo.getTime(), version: row.version },
      ]),
    ),
  };
};
