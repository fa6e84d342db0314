/** Rounds that were signed, and the signature of the shift that takes over. */
import { Countersign, SignedRoundDetail, SignedRoundLine } from '../../shared/contract/round.ts';
import { Instant, object, Type } from '../../shared/contract/schema.ts';
import { countersignRound, listRounds, type RoundHead, readRound, type SignedRow } from '../../shared/db/rounds.ts';
import { type Identity, whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, notFound } from '../errors.ts';
import { iso, queryInstant } from '../instant.ts';
import { presentSigned } from './round.ts';

const RoundParams = object({ id: Type.String({ maxLength: 64 }) });
const tags = ['round'];
const MOST_LISTED = 200;
const LISTED = 50;

const lineOf = (round: RoundHead): SignedRoundLine => ({
  ...presentSigned(round),
  area: round.area,
  areaName: round.areaName,
});
const detailOf = (round: SignedRow): SignedRoundDetail => ({
  ...lineOf(round),
  chambers: [...round.chambers],
  handover: round.handover,
});

/** Rounds of old tell no more of their signer than the name. */
const signedBySame = (round: SignedRow, who: Identity): boolean =>
  round.signedAs === null ? round.by === who.name : round.signedAs === `${who.kind} ${who.by}`;

const countersign = async (
  deps: Deps,
  { id, note, who }: { id: string; note: string; who: Identity },
): Promise<SignedRoundDetail> => {
  const at = deps.now();
  const by = who.name;
  const round = await deps.db.transaction(async (tx) => {
    const before = await readRound(tx, id);
    if (before === null) throw notFound(`There is no signed round ${id}.`);
    const { area } = before;
    if (before.countersigned === null && signedBySame(before, who))
      throw conflict(
        `${by} signed this round on ${iso(before.at)}; whoever takes over countersigns it: another person than the signer.`,
      );
    const free = await countersignRound(tx, { id, area, at, by, as: `${who.kind} ${who.by}`, note });
    const after = (await readRound(tx, id)) as SignedRow;
    if (!free) {
      const first = after.countersigned;
      throw conflict(
        `This round is countersigned already: ${first?.by ?? 'somebody'} was first, ${first ? iso(first.at) : ''}.`,
      );
    }
    await audited(tx, { at, by, what: 'round countersigned', detail: { area, id, note } });
    return after;
  });
  return detailOf(round);
};

export const signedRoundRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/rounds',
    {
      schema: {
        summary: 'Signed rounds, newest first',
        tags,
        querystring: object({
          area: Type.Optional(Type.String({ maxLength: 64 })),
          before: Type.Optional(Instant),
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_LISTED })),
        }),
        response: { 200: object({ rounds: Type.Array(SignedRoundLine) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { area, limit = LISTED } = request.query;
      const before = queryInstant('before', request.query.before);
      return { rounds: (await listRounds(deps.db.sql, { area, before, limit })).map(lineOf) };
    },
  );

  app.get(
    '/api/v1/rounds/:id',
    {
      schema: {
        summary: 'A signed round with what was seen and what was handed over',
        tags,
        params: RoundParams,
        response: { 200: SignedRoundDetail },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const round = await readRound(deps.db.sql, request.params.id);
      if (round === null) throw notFound(`There is no signed round ${request.params.id}.`);
      return detailOf(round);
    },
  );

  app.post(
    '/api/v1/round/:id/countersign',
    {
      schema: {
        summary: 'Take over what was handed over: another person than the signer, once',
        tags,
        params: RoundParams,
        body: Countersign,
        response: { 200: SignedRoundDetail },
      },
      config: { policy: 'operator' },
    },
    (request) => {
      const { note = '' } = request.body;
      return countersign(deps, { id: request.params.id, note, who: whoAsks(request) });
    },
  );
};
