/** What an engineer of the example did before the shift: alerts that are over are closed with what was found. */
import { setTimeout as pause } from 'node:timers/promises';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { Bench } from './calibrate.ts';
import type { Story } from './story.ts';

const LOOK_EVERY_MS = 1000;
/** Counted from when the workers have worked through the three days of history, however long that takes them. */
const PATIENCE_MS = 60_000;
/** The live feed always has a few scans on their way. */
const BEHIND_SCANS = 200;

export async function closeCases(bench: Bench): Promise<void> {
  const { server, tokenOf, log } = bench;
  for (const { closed, ...story } of bench.stories) {
    if (!closed) continue;
    const alert = await told(bench, story, isOver);
    // A restart finds what an earlier one has done, and what people have made of it since.
    if (alert?.state === 'normal') continue;
    if (!alert) {
      log(`${story.title}: its alert is not over in time; it waits for a person`);
      continue;
    }
    const path = `/api/v1/alerts/${alert.id}`;
    const token = await tokenOf(closed.by);
    const { cause, verified, note, keptAs } = closed;
    await server.ask({ method: 'POST', path: `${path}/close`, token, body: { cause, verified, note } });
    if (keptAs !== undefined)
      await server.ask({ method: 'POST', path: `${path}/example`, token, body: { note: keptAs } });
  }
}

/** Its condition has returned, or somebody has closed it. */
const isOver = ({ state, returnedAt }: Alert): boolean => state === 'normal' || returnedAt !== null;

/** The alert of the story as soon as it is as asked; null: not in time. */
export async function told(
  { server, adminToken: token, now, signal }: Bench,
  story: Pick<Story, 'chamber' | 'expected' | 'sinceMs'>,
  isAsAsked: (alert: Alert) => boolean,
): Promise<Alert | null> {
  let untilMs = now() + PATIENCE_MS;
  for (;;) {
    const path = `/api/v1/alerts?chamber=${story.chamber}&signature=${story.expected}`;
    const { alerts } = await server.ask<{ alerts: readonly Alert[] }>({ method: 'GET', path, token });
    // A story that is told afresh has alerts of an earlier telling behind it.
    const found = alerts.find((alert) => Date.parse(alert.raisedAt) >= story.sinceMs && isAsAsked(alert));
    if (found) return found;
    const { scans } = await server.ask<{ scans: number }>({ method: 'GET', path: '/api/v1/backlog', token });
    if (scans > BEHIND_SCANS) untilMs = now() + PATIENCE_MS;
    else if (now() >= untilMs) return null;
    await pause(LOOK_EVERY_MS, undefined, { signal });
  }
}
