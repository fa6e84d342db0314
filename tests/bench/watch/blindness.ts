/**
 * While nothing can be said of a chamber: what the round says of it, minute by minute, by the same judgement that the
 * product shows (health.ts), from what the watch has raised so far and the age of the last scan.
 */
import type { Priority } from '../../../shared/contract/words.ts';
import { doubtOf } from '../../../shared/watch/doubt.ts';
import { judgeHealth } from '../../../shared/watch/health.ts';
import type { WatchStep } from '../../../shared/watch/types.ts';
import type { Chamber } from './chamber.ts';
import type { Course, Observed } from './observer.ts';
import { type Arrival, START_MS } from './stream.ts';

export interface Blindness {
  readonly hours: number;
  /** Shown as `rest` or `changed` meanwhile. */
  readonly shownHealthyHours: number;
  /** Until it was shown so no more; null: to the end. */
  readonly firstSaidHours: number | null;
}

export interface Eye {
  readonly look: (arrival: Arrival, observed: Observed) => void;
  readonly close: (untilSeconds: number) => Blindness;
}

const MINUTE = 60;
const HEALTHY = new Set(['rest', 'changed']);

export function blindness(chamber: Chamber, course: Course, onset: number): Eye {
  const open = new Map<string, { priority: Priority; summary: string }>();
  let lastScanAtMs: number | null = Number.isFinite(course.judgedToMs) ? course.judgedToMs : null;
  let step: WatchStep | null = null;
  let at = onset;
  let healthy = 0;
  let firstSaid: number | null = null;

  const pass = (untilSeconds: number) => {
    for (; at < untilSeconds; at += MINUTE) {
      const { health } = judgeHealth({
        openAlerts: [...open].map(([signature, alert]) => ({ signature, ...alert, state: 'unacknowledged' })),
        lastScanAtMs,
        periodSeconds: step?.periodSeconds ?? chamber.analyser.periodSeconds,
        state: step?.state ?? 'base',
        stateSinceMs: step?.stateSinceMs ?? null,
        learning: step?.learning ?? null,
        strip: step?.strip ?? [],
        doubt: doubtOf(step?.notes ?? []),
        nowMs: START_MS + at * 1000,
        retired: false,
      });
      if (HEALTHY.has(health)) healthy++;
      else firstSaid ??= at;
    }
  };

  return {
    look(arrival, observed) {
      pass(arrival.seconds);
      step = observed.step;
      lastScanAtMs = arrival.scan.atMs;
      for (const event of observed.events) {
        if (event.kind === 'raised')
          open.set(event.signature, { priority: event.priority, summary: event.finding.summary });
        if (event.kind === 'returned') open.delete(event.signature);
      }
    },
    close(untilSeconds) {
      pass(untilSeconds);
      return {
        hours: (untilSeconds - onset) / 3600,
        shownHealthyHours: (healthy * MINUTE) / 3600,
        firstSaidHours: firstSaid === null ? null : (firstSaid - onset) / 3600,
      };
    },
  };
}
