/** What the database says of one chamber when a batch begins: document, analysers, limits, closes, memories. */
import type { Sql } from 'postgres';
import type { Calibration, InstrumentMemory } from '../shared/analysis/types.ts';
import type { Chamber } from '../shared/contract/fleet.ts';
import type { Signature } from '../shared/contract/words.ts';
import { calibrationsOverTime, type FleetAnalyser } from '../shared/db/calibrationInForce.ts';
import { readInForce } from '../shared/db/calibrations.ts';
import { unpackInstrument, unpackMemory } from '../shared/db/memory.ts';
import type { PinMark } from '../shared/db/pins.ts';
import { rowsInForce } from '../shared/db/rationalisations.ts';
import type { Log } from '../shared/log.ts';
import type { BaselinePin, SignatureRule, SiteExample, WatchContext, WatchMemory } from '../shared/watch/types.ts';
import { type ExampleShelf, readPinsFor, takeExamples } from './chamberExperience.ts';
import type { Remembered } from './remembered.ts';
import { type JudgedBy, rulesFrom } from './signatureRules.ts';

/** An alert that a person has closed and of which these analysers' watch has yet to be told. */
export interface UntoldClose {
  readonly alert: string;
  readonly signature: Signature;
  readonly heldBy: readonly string[];
}

export interface WatchState {
  /** Null: nothing was judged yet. */
  readonly memory: WatchMemory | null;
  /** What the analysis remembers of the analyser itself; null: nothing yet. */
  readonly instrument: InstrumentMemory | null;
  readonly judgedToMs: number;
  /** 0: no row yet. */
  readonly version: number;
}

export interface ChamberContext {
  readonly chamber: WatchContext['chamber'];
  /** Per analyser, the calibration in force at an instant (ms since 1970). */
  readonly calibrationsOf: ReadonlyMap<string, (atMs: number) => Calibration>;
  readonly limits: WatchContext['limits'];
  readonly untoldCloses: readonly UntoldClose[];
  readonly watches: ReadonlyMap<string, WatchState>;
  /** Per analyser, the pinned baselines that its memory has yet to adopt. */
  readonly pins?: ReadonlyMap<string, readonly BaselinePin[]>;
  readonly examples?: readonly SiteExample[];
  /** Absent: every signature is judged as built. */
  readonly rules?: readonly SignatureRule[];
}

/** What the watch of one analyser is told with a scan. */
export const watchContextOf = (
  context: Pick<ChamberContext, 'chamber' | 'limits' | 'pins' | 'examples' | 'rules'>,
  asked: Pick<WatchContext, 'calibration' | 'closedByPerson'> & { readonly analyser: string },
): WatchContext => {
  const pins = context.pins?.get(asked.analyser);
  return {
    chamber: context.chamber,
    calibration: asked.calibration,
    limits: context.limits,
    closedByPerson: asked.closedByPerson,
    ...(pins ? { pins } : {}),
    ...(context.examples ? { examples: context.examples } : {}),
    ...(context.rules ? { rules: context.rules } : {}),
  };
};

interface ContextRow {
  chamber: { name: string; kind: string | null; document: Chamber } | null;
  analysers: FleetAnalyser[];
  limits: WatchContext['limits'];
  closes: UntoldClose[];
  pins: PinMark[];
  /** Ids of those not withdrawn, of its kind. */
  examples: string[];
  /** The newest of its kind and of every kind, per signature. */
  rationalisations: { signature: Signature; kind: string; record: JudgedBy }[];
}

interface MemoryRow {
  analyser: string;
  judgedTo: Date;
  version: number;
  /** The process holds this very version. */
  known: boolean;
  memory: Buffer | null;
  instrument: Buffer | null;
}

/** A memory that this process has just written is not read back: its version says that it is the same. */
const readMemories = (sql: Sql, chamber: string, known: ReadonlyMap<string, Remembered>) => sql<MemoryRow[]>`
  select m.analyser, m.judged_to as "judgedTo", m.version, k.version is not null as known,
    case when k.version is null then m.memory end as memory,
    case when k.version is null then m.instrument end as instrument
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
      from alerts where chamber = ${chamber} and state = 'normal' and held_by <> '{}') as closes,
    (select coalesce(jsonb_agg(jsonb_build_object('id', id, 'analyser', analyser, 'validFromMs',
        extract(epoch from valid_from) * 1000, 'replaced', state = 'replaced')), '[]')
      from baseline_pins where chamber = ${chamber} and analyser = any(${analysers as string[]})
        and state in ('in-force', 'replaced')) as pins,
    (select coalesce(jsonb_agg(e.id order by e.set_at, e.id), '[]') from signature_examples e
      where e.withdrawn_at is null and (e.chamber_kind = (select kind from chambers where id = ${chamber})
        or (e.chamber_kind is null and e.chamber = ${chamber}))) as examples,
    (select coalesce(jsonb_agg(jsonb_build_object('signature', r.signature, 'kind', r.kind, 'record',
        r.record - '{causes,consequence,responseSteps,basis,cautions}'::text[]) order by r.signature, r.kind), '[]')
      from (select distinct on (signature, kind) * from rationalisations
        where kind in ('', (select kind from chambers where id = ${chamber}))
        order by signature, kind, version desc) r) as rationalisations`;

type Memories = Pick<WatchState, 'memory' | 'instrument'>;

/** A memory that cannot be read is lost learning, not a reason to stop watching: it begins anew. */
const memoriesOf = (row: MemoryRow, { chamber, known, log }: Asked): Memories => {
  const { analyser } = row;
  const held = row.known ? known.get(analyser) : undefined;
  if (held) return held;
  const read = <M>(whose: string, bytes: Buffer | null, unpack: (bytes: Buffer) => M): M | null => {
    try {
      return bytes && unpack(bytes);
    } catch (error) {
      log.error({ chamber, analyser, error }, `The memory of the ${whose} cannot be read: it begins anew`);
      return null;
    }
  };
  return {
    memory: read('watch', row.memory, unpackMemory),
    instrument: read('analysis', row.instrument, unpackInstrument),
  };
};

interface Asked {
  readonly chamber: string;
  /** Those with scans in the batch, whose documents are wanted. */
  readonly analysers: readonly string[];
  /** Memories that this process holds, by analyser. */
  readonly known: ReadonlyMap<string, Remembered>;
  readonly examples: ExampleShelf;
  readonly log: Log;
}

/** What people have said of a chamber that the watch goes by, whichever of its analysers it looks through. */
export type Told = Pick<ChamberContext, 'chamber' | 'limits' | 'examples' | 'rules'>;

const toldOf = async (sql: Sql, { chamber, examples }: Pick<Asked, 'chamber' | 'examples'>, row: ContextRow) => {
  const document = row.chamber?.document;
  const rules = rulesFrom([...rowsInForce(row.rationalisations).values()]);
  return {
    chamber: {
      id: chamber,
      name: row.chamber?.name ?? chamber,
      kind: row.chamber?.kind ?? null,
      volumeLitres: document?.volumeLitres ?? null,
      pumpingSpeedLitresPerSecond: document?.pumpingSpeedLitresPerSecond ?? {},
      gases: document?.gases ?? [],
    },
    limits: row.limits,
    ...(rules.length > 0 ? { rules } : {}),
    ...(row.examples.length > 0 ? { examples: await takeExamples(sql, examples, row.examples) } : {}),
  };
};

export const readTold = async (sql: Sql, asked: Pick<Asked, 'chamber' | 'examples'>): Promise<Told> => {
  const [row] = await readDocuments(sql, asked.chamber, []);
  return await toldOf(sql, asked, row as ContextRow);
};

export const readContext = async (sql: Sql, asked: Asked): Promise<ChamberContext> => {
  const [documents, memories, inForce] = await Promise.all([
    readDocuments(sql, asked.chamber, asked.analysers),
    readMemories(sql, asked.chamber, asked.known),
    readInForce(sql, asked.analysers),
  ]);
  const row = documents[0] as ContextRow;
  const watches = new Map(
    memories.map((row) => {
      const { memory, instrument } = memoriesOf(row, asked);
      return [row.analyser, { memory, instrument, judgedToMs: row.judgedTo.getTime(), version: row.version }];
    }),
  );
  const [told, pins] = await Promise.all([
    toldOf(sql, asked, row),
    row.pins.length > 0 ? readPinsFor(sql, { chamber: asked.chamber, marks: row.pins, watches }) : null,
  ]);
  return {
    ...told,
    calibrationsOf: new Map(
      row.analysers.map((analyser) => {
        const rows = inForce.filter((one) => one.analyser === analyser.id);
        return [analyser.id, calibrationsOverTime(analyser, rows)];
      }),
    ),
    untoldCloses: row.closes,
    watches,
    ...(pins ? { pins } : {}),
  };
};
