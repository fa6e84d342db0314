/** Judges what somebody wants to try on the past, before a worker spends minutes on it. */
import { resolveGas } from '../shared/catalogue/select.ts';
import { MOST_REHEARSED_DAYS, type NewRehearsal, type RehearsedChange } from '../shared/contract/rehearsal.ts';
import { readPin } from '../shared/db/pins.ts';
import type { Deps } from './deps.ts';
import { impossible, ProblemError } from './errors.ts';
import { judgeRecord } from './judgeRecord.ts';
import type { FieldProblem } from './schemaWords.ts';

/** A chamber to be worked through, as its first analyser sees it. */
export interface RehearsedPlace {
  readonly chamber: string;
  readonly analyser: string;
}

export interface JudgedRehearsal {
  /** As it is stored: gases by their id, the chamber of a pin named. */
  readonly request: NewRehearsal;
  readonly places: readonly RehearsedPlace[];
}

interface Candidate extends RehearsedPlace {
  hasScans: boolean;
}

const candidates = async ({ db }: Deps, of: { chamber: string } | { chamberKind: string }): Promise<Candidate[]> => {
  const { sql } = db;
  return await sql<Candidate[]>`
    select c.id as chamber, a.id as analyser,
      exists (select 1 from scans s where s.chamber = c.id and s.analyser = a.id) as "hasScans"
    from chambers c cross join lateral (
      select id from analysers where chamber = c.id order by retired_at is not null, position limit 1
    ) a
    where ${'chamber' in of ? sql`c.id = ${of.chamber}` : sql`c.kind = ${of.chamberKind} and c.retired_at is null`}
    order by c.position, c.id`;
};

const refuse = (problems: readonly FieldProblem[]): void => {
  if (problems.length > 0)
    throw new ProblemError(422, problems.map((p) => `${p.path}: ${p.problem}`).join('; '), { errors: problems });
};

type Limits = Extract<RehearsedChange, { kind: 'limits' }>['limits'];

/** @throws 422 for a gas that the catalogue does not know, or that stands twice */
const checkedLimits = (limits: Limits): Limits => {
  const problems: FieldProblem[] = [];
  const seen = new Set<string>();
  const known = limits.map((limit, i) => {
    const path = `/change/limits/${i}/gas`;
    const gas = resolveGas(limit.gas);
    if (gas === null) problems.push({ path, problem: `${limit.gas} is not in the catalogue (see GET /api/v1/gases)` });
    else if (seen.has(gas)) problems.push({ path, problem: `${limit.gas} has a limit already` });
    else seen.add(gas);
    return { ...limit, gas: gas ?? limit.gas };
  });
  refuse(problems);
  return known;
};

/** @throws 422 for a record that could not be saved either */
const checkRecord = ({ signature, record }: Extract<RehearsedChange, { kind: 'rationalisation' }>): void =>
  refuse(judgeRecord(signature, record).map(({ path, problem }) => ({ path: `/change${path}`, problem })));

/** The place follows from the pin: it belongs to one analyser. */
const ofPin = async (deps: Deps, body: NewRehearsal, id: string): Promise<JudgedRehearsal> => {
  const pin = await readPin(deps.db.sql, id);
  if (pin === null) throw impossible('/change/pin', `there is no pinned baseline ${id}`);
  if (body.chamberKind !== undefined) throw impossible('/chamberKind', 'a pinned baseline belongs to one chamber');
  if (body.chamber !== undefined && body.chamber !== pin.chamber)
    throw impossible('/chamber', `the pinned baseline ${id} belongs to ${pin.chamber}`);
  if (pin.state === 'failed')
    throw impossible('/change/pin', `nothing was learned from its period: ${pin.problem ?? 'no reason was given'}`);
  if (pin.state === 'waiting') throw impossible('/change/pin', 'it is still being worked out');
  if (pin.state !== 'proposed') throw impossible('/change/pin', `it is ${pin.state}: only a proposed one is rehearsed`);
  const { chamber, analyser } = pin;
  return { request: { ...body, chamber }, places: [{ chamber, analyser }] };
};

const placesOf = async (deps: Deps, body: NewRehearsal): Promise<RehearsedPlace[]> => {
  const { chamber, chamberKind } = body;
  if (chamber !== undefined && chamberKind !== undefined)
    throw impossible('/chamberKind', 'name a chamber or a kind, not both');
  if (chamber === undefined && chamberKind === undefined)
    throw impossible('/chamber', 'is missing: name a chamber or a kind');
  const path = chamber === undefined ? '/chamberKind' : '/chamber';
  const found = await candidates(deps, chamber === undefined ? { chamberKind: chamberKind as string } : { chamber });
  if (found.length === 0)
    throw impossible(
      path,
      chamber === undefined
        ? `no chamber of the kind ${chamberKind} has an analyser`
        : `there is no chamber ${chamber} with an analyser`,
    );
  const seen = found.filter(({ hasScans }) => hasScans);
  if (seen.length === 0)
    throw impossible(
      path,
      chamber === undefined
        ? `there are no scans of any chamber of the kind ${chamberKind}`
        : `there are no scans of ${chamber}`,
    );
  return seen.map(({ chamber, analyser }) => ({ chamber, analyser }));
};

/** @throws 422 naming the field and the reason */
export const judgeRehearsal = async (deps: Deps, asked: NewRehearsal): Promise<JudgedRehearsal> => {
  const body = { ...asked, days: asked.days ?? MOST_REHEARSED_DAYS };
  const { change } = body;
  if (change.kind === 'baseline') return await ofPin(deps, body, change.pin);
  if (change.kind === 'rationalisation') checkRecord(change);
  const request: NewRehearsal =
    change.kind === 'limits' ? { ...body, change: { ...change, limits: checkedLimits(change.limits) } } : body;
  return { request, places: await placesOf(deps, request) };
};
