/** What an engineer of the example did before the shift: alerts that are over are closed with what was found. */
import { setTimeout as pause } from 'node:timers/promises';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { Bench } from './calibrate.ts';
import type { Story } from './stories.ts';

const LOOK_EVERY_MS = 1000;
/** The workers have three days of history to work through first. */
const PATIENCE_MS = 180_000;

export async function closeCases(bench: Bench): Promise<void> {
  const { server, adminToken: token, log } = bench;
  for (const story of bench.stories) {
    if (!story.closed) continue;
    const alert = await over(bench, story);
    // A restart finds what an earlier one has done, and what people have made of it since.
    if (alert?.state === 'normal') continue;
    if (!alert) {
      log(`${story.title}: its alert is not over in time; it waits for a person`);
      continue;
    }
    const path = `/api/v1/alerts/${alert.id}`;
    await server.ask({ method: 'POST', path: `${path}/close`, token, body: { ...story.closed } });
    const note = 'A purge as it looks on this chamber';
    await server.ask({ method: 'POST', path: `${path}/example`, token, body: { note } });
  }
}

/** The alert of the story once its condition has returned, or once somebody has closed it. */
async function over({ server, adminToken: token, now, signal }: Bench, story: Story): Promise<Alert | null> {
  const untilMs = now() + PATIENCE_MS;
  for (;;) {
    const path = `/api/v1/alerts?chamber=${story.chamber}&signature=${story.expected}`;
    const { alerts } = await server.ask<{ alerts: readonly Alert[] }>({ method: 'GET', path, token });
    const found = alerts.find(({ state, returnedAt }) => state === 'normal' || returnedAt !== null);
    if (found) return found;
    if (now() >= untilMs) return null;
    await pause(LOOK_EVERY_MS, undefined, { signal });
  }
}
