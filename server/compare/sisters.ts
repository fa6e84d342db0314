/** One chamber among chambers of its kind, by the newest scans of each in the same state. */
import type { Sisters } from '../../shared/contract/sisters.ts';
import type { OperatingState, PressureUnit } from '../../shared/contract/words.ts';
import { readOfKind, readSideScans, readUsual, type SisterRow, type UsualFacts } from '../../shared/db/compared.ts';
import { readMeasurement } from '../../shared/db/measurement.ts';
import { byGas } from '../../shared/measurement/gasSeries.ts';
import { type GasSide, sideOf } from '../../shared/measurement/gasSide.ts';
import {
  type Among,
  amongSisters,
  LEAST_SISTERS,
  type Sister,
  type SisterAnswer,
} from '../../shared/measurement/sisters.ts';
import type { Deps } from '../deps.ts';
import { iso } from '../instant.ts';
import { plain, pressure } from '../present.ts';
import { byCatalogue } from './gases.ts';

export interface AskedSisters {
  readonly chamber: string;
  readonly kind: string | null;
  readonly state: OperatingState | undefined;
  readonly unit: PressureUnit;
}

/** A chamber's newest scans in the asked state, at most so many, within this time. */
const SCANS = 30;
const HOURS = 24;

interface Placed extends Sister {
  readonly name: string;
  readonly at: Date;
  readonly scans: number;
}

const driftOf = ({ mean }: GasSide, usual: UsualFacts['gases'][string] | undefined) =>
  mean === null || usual === undefined
    ? null
    : { ln: mean.ln - usual.medianLog10Pa * Math.LN10, halfLn: usual.halfWidthDecades * Math.LN10 };

const placedOf = async ({ db, now }: Deps, one: SisterRow, state: OperatingState): Promise<Placed | null> => {
  const to = now();
  const from = new Date(to.getTime() - HOURS * 3_600_000);
  const scans = await readSideScans(db.sql, { ...one, from, to, state, most: SCANS });
  const at = scans.at(-1)?.at;
  if (at === undefined) return null;
  const usual = await readUsual(db.sql, { ...one, state });
  const measured = await readMeasurement(db.sql, { analyser: one.analyser, at });
  const errors = measured?.measurement?.sensitivityErrors;
  const all = byGas(scans.map(({ at: when, gases }) => ({ atMs: when.getTime(), gases })));
  const gases = [...all]
    .toSorted(([a], [b]) => byCatalogue(a, b))
    .map(([gas, looked]) => {
      const side = sideOf(looked, errors?.[gas]);
      const { mean, limitPa, lasting } = side;
      return [gas, { lnPa: mean?.ln ?? null, limitPa, lasting, drift: driftOf(side, usual?.gases[gas]) }] as const;
    });
  return { id: one.chamber, name: one.name, at, scans: scans.length, gases: new Map(gases) };
};

const stateNow = async ({ db }: Deps, { chamber, analyser }: SisterRow): Promise<OperatingState | null> => {
  const [row] = await db.sql<{ state: OperatingState }[]>`
    select state from latest where chamber = ${chamber} and analyser = ${analyser}`;
  return row?.state ?? null;
};

const told = (answers: readonly SisterAnswer[], sisters: number): Sisters['verdict'] => {
  const those = (...words: SisterAnswer['so'][]) =>
    answers.filter(({ so }) => words.includes(so)).map(({ gas }) => gas);
  const out = those('level and drift', 'level only', 'drift only', 'seen only here');
  if (sisters < LEAST_SISTERS) return { word: 'too few', gases: [] };
  if (out.length > 0) return { word: 'stands out', gases: out };
  const shared = those('shared');
  if (shared.length > 0) return { word: 'shared', gases: shared };
  return answers.some(({ so }) => so === 'alike') ? { word: 'alike', gases: [] } : { word: 'too few', gases: [] };
};

const amongIn = (found: Among | null, told: (ln: number) => number | null): Sisters['gases'][number]['level'] =>
  found && {
    own: told(found.own) ?? 0,
    low: told(found.low) ?? 0,
    high: told(found.high) ?? 0,
    z: plain(found.z) ?? 0,
  };

const factor = (ln: number | null | undefined): number | null => (ln == null ? null : plain(Math.exp(ln)));

export async function sisters(deps: Deps, asked: AskedSisters): Promise<Sisters> {
  const { chamber, kind, unit } = asked;
  const all = kind === null ? [] : await readOfKind(deps.db.sql, kind);
  const own = all.find((one) => one.chamber === chamber);
  const state = asked.state ?? (own ? await stateNow(deps, own) : null);
  const nothing = {
    chamber,
    kind,
    state,
    unit,
    hours: HOURS,
    least: LEAST_SISTERS,
    at: null,
    scans: 0,
    sisters: [],
    absent: all.filter((one) => one !== own).map(({ chamber: id, name }) => ({ id, name })),
    gases: [],
  };
  if (kind === null) return { ...nothing, verdict: { word: 'no kind', gases: [] } };
  const self = own && state ? await placedOf(deps, own, state) : null;
  if (self === null || state === null) return { ...nothing, verdict: { word: 'no scans', gases: [] } };
  const others: Placed[] = [];
  const absent: Sisters['absent'] = [];
  for (const one of all) {
    if (one === own) continue;
    const placed = await placedOf(deps, one, state);
    if (placed === null) absent.push({ id: one.chamber, name: one.name });
    else others.push(placed);
  }
  const inUnit = (ln: number | null | undefined) => (ln == null ? null : pressure(Math.exp(ln), unit));
  const answers = amongSisters(self, others);
  return {
    ...nothing,
    at: iso(self.at),
    scans: self.scans,
    sisters: others.map(({ id, name, at, scans }) => ({ id, name, at: iso(at), scans })),
    absent,
    gases: answers.map(({ gas, level, drift, middleLn, middleDriftLn, ...rest }) => {
      const mine = self.gases.get(gas);
      return {
        gas,
        ...rest,
        level: amongIn(level, inUnit),
        drift: amongIn(drift, factor),
        limit: pressure(mine?.limitPa, unit),
        own: inUnit(mine?.lnPa),
        middle: inUnit(middleLn),
        middleDrift: factor(middleDriftLn),
        ownDrift: factor(mine?.drift?.ln),
        marks: others.flatMap(({ id, gases }) => {
          const found = gases.get(gas);
          return found ? [{ chamber: id, value: inUnit(found.lnPa), drift: factor(found.drift?.ln) }] : [];
        }),
      };
    }),
    verdict: told(answers, others.length),
  };
}
