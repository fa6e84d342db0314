/** Puts the example fleet in place and finds where its story stands. */
import type { TokenLine } from '../../shared/contract/access.ts';
import type { FleetChange, FleetDocument } from '../../shared/contract/fleet.ts';
import type { ChamberLine } from '../../shared/contract/readings.ts';
import { exampleFleet } from './fleet.ts';
import type { Server } from './http.ts';
import { HISTORY_MS } from './world.ts';

/** Another fleet lives here: the example keeps out. */
export class OtherFleetError extends Error {
  constructor(ids: readonly string[]) {
    const named = ids.slice(0, 3).join(', ');
    super(
      `This database holds a fleet of its own (${named}${ids.length > 3 ? ', …' : ''}). ` +
        'The example is not loaded into it. Start it with a data folder or a database of its own.',
    );
    this.name = 'OtherFleetError';
  }
}

export interface Setting {
  readonly server: Server;
  readonly adminToken: string;
  readonly nowMs: number;
}

export interface Position {
  readonly gatewayToken: string;
  /** The moment around which the stories are told. */
  readonly anchorMs: number;
  /** Scans up to here are in already. */
  readonly sentUntilMs: number;
}

export async function setUpExample({ server, adminToken, nowMs }: Setting): Promise<Position> {
  const fleet = exampleFleet();
  const present = await server.ask<FleetDocument>({ method: 'GET', path: '/api/v1/fleet', token: adminToken });
  const strangers = idsOf(present).filter((id) => !idsOf(fleet).includes(id));
  if (strangers.length > 0) throw new OtherFleetError(strangers);
  await server.ask<FleetChange>({ method: 'PUT', path: '/api/v1/fleet', token: adminToken, body: fleet });
  const lastScanMs = await newestScan(server, adminToken);
  const old = await ownTokens(server, adminToken);
  const anchorMs = chooseAnchor({ earlierAnchors: old.map(({ name }) => anchorIn(name)), lastScanMs, nowMs });
  const gatewayToken = await renewToken({ server, adminToken, anchorMs, old, fleet });
  const historyFromMs = anchorMs - HISTORY_MS;
  return { gatewayToken, anchorMs, sentUntilMs: Math.max(historyFromMs, lastScanMs ?? historyFromMs) };
}

const idsOf = ({ areas, chambers, analysers }: FleetDocument): readonly string[] =>
  [...areas, ...chambers, ...analysers].map(({ id }) => id);

async function newestScan(server: Server, token: string): Promise<number | null> {
  const { chambers } = await server.ask<{ chambers: readonly ChamberLine[] }>({
    method: 'GET',
    path: '/api/v1/chambers',
    token,
  });
  const times = chambers.flatMap(({ lastScanAt }) => (lastScanAt ? [Date.parse(lastScanAt)] : []));
  return times.length > 0 ? Math.max(...times) : null;
}

/** The gateway's token is named for the anchor, so that the database itself says where the story stands. */
const TOKEN_NAME = 'example feed, told from ';
const tokenName = (anchorMs: number): string => TOKEN_NAME + new Date(anchorMs).toISOString();

export function anchorIn(name: string): number | null {
  const anchorMs = name.startsWith(TOKEN_NAME) ? Date.parse(name.slice(TOKEN_NAME.length)) : Number.NaN;
  return Number.isFinite(anchorMs) ? anchorMs : null;
}

async function ownTokens(server: Server, token: string): Promise<readonly TokenLine[]> {
  const { tokens } = await server.ask<{ tokens: readonly TokenLine[] }>({
    method: 'GET',
    path: '/api/v1/tokens',
    token,
  });
  return tokens.filter(({ name }) => anchorIn(name) !== null);
}

/**
 * A story that can be joined to what is already there goes on, so that chambers keep their past. After a pause that is
 * longer than the history itself it is told afresh.
 */
export function chooseAnchor(o: {
  readonly earlierAnchors: readonly (number | null)[];
  readonly lastScanMs: number | null;
  readonly nowMs: number;
}): number {
  const MINUTE_MS = 60_000;
  const earlier = Math.max(...o.earlierAnchors.map((anchorMs) => anchorMs ?? Number.NEGATIVE_INFINITY));
  const leftOffMs = Math.max(earlier, o.lastScanMs ?? Number.NEGATIVE_INFINITY);
  if (Number.isFinite(earlier) && o.nowMs - leftOffMs < HISTORY_MS) return earlier;
  return Math.floor(o.nowMs / MINUTE_MS) * MINUTE_MS;
}

interface Renewal {
  readonly server: Server;
  readonly adminToken: string;
  readonly anchorMs: number;
  readonly old: readonly TokenLine[];
  readonly fleet: FleetDocument;
}

/** The secret of an earlier token is gone with the process that held it: a new one takes its place. */
async function renewToken({ server, adminToken, anchorMs, old, fleet }: Renewal): Promise<string> {
  const { token } = await server.ask<{ id: string; token: string }>({
    method: 'POST',
    path: '/api/v1/tokens',
    token: adminToken,
    body: { name: tokenName(anchorMs), role: 'gateway', analysers: fleet.analysers.map(({ id }) => id) },
  });
  for (const { id } of old) await server.ask({ method: 'DELETE', path: `/api/v1/tokens/${id}`, token: adminToken });
  return token;
}
