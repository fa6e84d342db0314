/** What was over before the shift began, and what was found: closed cases of the example. */
import { ENGINEER } from './people.ts';
import type { SomeGases } from './physics/gases.ts';
import { pumpDown, roomAir } from './plantWork.ts';
import { driftAt, seedOf } from './random.ts';
import type { Story } from './story.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

/** The purge was left open when the hoist had been greased, and nobody noticed before the afternoon. */
export function purgeLeftOpen(anchorMs: number): Story {
  const fromMs = anchorMs - 46 * HOUR_MS;
  const toMs = fromMs + 3.2 * HOUR_MS;
  const OPEN = 9e-4;
  const purge = (atMs: number): SomeGases =>
    atMs < fromMs || atMs >= toMs ? {} : { N2: OPEN * Math.exp(0.02 * driftAt(seedOf('soft clean purge'), atMs, 2)) };
  return {
    title: 'The nitrogen purge was left open for three hours two days ago',
    chamber: 'east-softclean',
    sinceMs: fromMs,
    expected: 'gas-inleak',
    happenings: { loads: [purge] },
    closed: {
      by: ENGINEER,
      cause: 'purge valve left open',
      verified: 'gas-inleak',
      note: 'Closed it. The hand wheel now has a tag.',
      keptAs: 'A purge as it looks on this chamber',
    },
  };
}

/**
 * A seal that was pinched at a vent lets go hours after it; the chamber is vented once more, gets a new one and is tight
 * again. Both vents are short ones with dry nitrogen, so that water hides nothing, and as long after the second as the
 * leak was seen after the first the two can be set against each other.
 */
export function sealRenewed(anchorMs: number): Story {
  const at = (hours: number) => anchorMs - hours * HOUR_MS;
  const first = { ventedMs: at(66), roughingMs: at(65), pumpedMs: at(64.7), baseMs: at(60) };
  const second = { ventedMs: at(39), roughingMs: at(37.5), pumpedMs: at(37.2), baseMs: at(32.7) };
  const sinceMs = at(54);
  const DRY_NITROGEN = 0.05;
  const LEAK = 8e-4;
  const GIVES_WAY_HOURS = 0.2;
  const leak = (atMs: number): SomeGases => {
    if (atMs < sinceMs || atMs >= second.ventedMs) return {};
    const hours = (atMs - sinceMs) / HOUR_MS;
    return roomAir(LEAK * (1 - Math.exp(-hours / GIVES_WAY_HOURS)));
  };
  return {
    title: 'A pinched seal leaked after a vent, was renewed, and the chamber is tight again',
    chamber: 'east-nitride',
    sinceMs,
    expected: 'air-leak',
    happenings: {
      vents: [first, second].map(({ ventedMs, pumpedMs }) => ({
        fromMs: ventedMs,
        toMs: pumpedMs,
        wetness: DRY_NITROGEN,
        roughPa: 3,
      })),
      spans: [...pumpDown(first), ...pumpDown(second)],
      loads: [leak],
    },
    closed: {
      by: ENGINEER,
      cause: 'pinched seal of the gas ring',
      verified: 'air-leak',
      note: 'Vented, seal renewed, pumped down again. The comparison of before and after shows the gases back.',
    },
    notes: [
      {
        by: ENGINEER,
        atMs: first.ventedMs + 20 * MINUTE_MS,
        text: 'Gas ring taken out and put back after cleaning, purged with dry nitrogen.',
      },
      {
        by: ENGINEER,
        atMs: second.ventedMs + 30 * MINUTE_MS,
        text: 'Opened to find the leak: the seal of the gas ring was pinched on a hand’s breadth. New seal, faces wiped.',
      },
    ],
    handedOver: [
      {
        by: ENGINEER,
        kind: 'watch',
        text: 'New seal in the gas ring. Nitrogen and argon should stay where they are; tell vacuum engineering if they rise together.',
      },
    ],
  };
}
