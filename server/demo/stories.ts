/**
 * What happens in the example, told relative to `anchorMs`, the moment at which the example was set up. Each story is
 * a cause in the chamber or the analyser; everything that is seen of it follows from the physics.
 */
import { purgeLeftOpen, sealRenewed } from './closedStories.ts';
import { nitrogenDose, ownGasRecorded } from './markedStories.ts';
import { EARLY, ENGINEER } from './people.ts';
import type { SomeGases } from './physics/gases.ts';
import { warmthFactor } from './physics/outgassing.ts';
import { pumpDown, roomAir } from './plantWork.ts';
import { driftAt, seedOf } from './random.ts';
import type { Story } from './story.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

export function storiesFrom(anchorMs: number): readonly Story[] {
  return [
    growingAirLeak(anchorMs),
    oilAfterRoughing(anchorMs),
    purgeLeaksBy(anchorMs),
    purgeLeftOpen(anchorMs),
    sealRenewed(anchorMs),
    dryingAfterVent(anchorMs),
    losingGain(anchorMs),
    silent(anchorMs),
    leakCheck(anchorMs),
    argonSteps(anchorMs),
    afterBake(anchorMs),
    ownGasRecorded(anchorMs),
    nitrogenDose(anchorMs),
  ];
}

/** A bellows cracks: it grows like a logistic curve, fast at first, and ends at what the crack can pass. */
function growingAirLeak(anchorMs: number): Story {
  const FIRST = 2.5e-6;
  const LAST = 2e-4;
  const GROWTH_HOURS = 1.2;
  const sinceMs = anchorMs - 3.5 * HOUR_MS;
  const leak = (atMs: number) => {
    if (atMs < sinceMs) return {};
    const hours = (atMs - sinceMs) / HOUR_MS;
    return roomAir(LAST / (1 + (LAST / FIRST - 1) * Math.exp(-hours / GROWTH_HOURS)));
  };
  return {
    title: 'The bellows of the sample lift has cracked: air leaks in and grows',
    chamber: 'heron-sample',
    sinceMs,
    expected: 'air-leak',
    happenings: { loads: [leak] },
  };
}

/** A short vent to change a shutter; the roughing valve then stood open for minutes after the blank-off pressure. */
function oilAfterRoughing(anchorMs: number): Story {
  const ventedMs = anchorMs - 160 * MINUTE_MS;
  const roughingMs = anchorMs - 138 * MINUTE_MS;
  const pumpedMs = anchorMs - 124 * MINUTE_MS;
  const baseMs = anchorMs - 70 * MINUTE_MS;
  const FILM = 8e-6;
  const film = (atMs: number, wallCelsius: number): SomeGases => {
    if (atMs < pumpedMs) return {};
    // A thin film leaves the wall ever more slowly.
    const hours = Math.max(0.1, (atMs - pumpedMs) / HOUR_MS);
    return { oil: FILM * hours ** -0.35 * warmthFactor('oil', wallCelsius) };
  };
  return {
    title: 'The roughing valve closed too late after a short vent: pump oil has come in',
    chamber: 'east-evap',
    sinceMs: pumpedMs,
    expected: 'hydrocarbon-oil',
    happenings: {
      vents: [{ fromMs: ventedMs, toMs: pumpedMs, wetness: 0.3, roughPa: 3 }],
      spans: pumpDown({ ventedMs, roughingMs, pumpedMs, baseMs }),
      loads: [film],
    },
    notes: [
      {
        by: EARLY,
        atMs: pumpedMs,
        text: 'Shutter changed. The roughing valve stood open long after the pressure at which it should have closed.',
      },
    ],
  };
}

/** The seat of a purge valve no longer closes: pure nitrogen, steady but for the line's own pressure. */
function purgeLeaksBy(anchorMs: number): Story {
  const sinceMs = anchorMs - 20 * HOUR_MS;
  const SEAT = 1.3e-3;
  const seat = (atMs: number): SomeGases =>
    atMs < sinceMs ? {} : { N2: SEAT * Math.exp(0.03 * driftAt(seedOf('purge line'), atMs, 3)) };
  return {
    title: 'The nitrogen purge valve leaks by',
    chamber: 'east-etch-north',
    sinceMs,
    expected: 'gas-inleak',
    happenings: { loads: [seat] },
    handedOver: [
      {
        by: ENGINEER,
        kind: 'work',
        text: 'A new seat for the purge valve is out of the store and cleaned. It goes in at the next planned stop.',
      },
    ],
  };
}

/** Opened for an hour and a half yesterday: the water falls as it should. */
function dryingAfterVent(anchorMs: number): Story {
  const ventedMs = anchorMs - 28 * HOUR_MS;
  const roughingMs = anchorMs - 26.5 * HOUR_MS;
  const pumpedMs = anchorMs - 26.2 * HOUR_MS;
  const baseMs = anchorMs - 16 * HOUR_MS;
  return {
    title: 'Drying after yesterday’s vent, as expected',
    chamber: 'east-anneal',
    sinceMs: pumpedMs,
    expected: null,
    happenings: {
      vents: [{ fromMs: ventedMs, toMs: pumpedMs, wetness: 1, roughPa: 3 }],
      spans: pumpDown({ ventedMs, roughingMs, pumpedMs, baseMs }),
    },
  };
}

/** A tired multiplier: every peak shrinks together while the gauge stands still. */
function losingGain(anchorMs: number): Story {
  const sinceMs = anchorMs - 48 * HOUR_MS;
  const LEFT_IN_THE_END = 0.3;
  const LOSS_HOURS = 40;
  return {
    title: 'The analyser is losing gain; the chamber is not cleaner',
    chamber: 'heron-mirror-1',
    analyser: 'heron-mirror-1-a',
    sinceMs,
    expected: 'sensitivity-drift',
    gain: (atMs) =>
      atMs < sinceMs
        ? 1
        : LEFT_IN_THE_END + (1 - LEFT_IN_THE_END) * Math.exp(-(atMs - sinceMs) / (LOSS_HOURS * HOUR_MS)),
  };
}

function silent(anchorMs: number): Story {
  const sinceMs = anchorMs - 6 * HOUR_MS;
  return {
    title: 'The analyser went silent: its gateway lost the line',
    chamber: 'heron-slit',
    analyser: 'heron-slit-a',
    sinceMs,
    expected: 'silent',
    silentFromMs: sinceMs,
    handedOver: [
      {
        by: EARLY,
        kind: 'promise',
        text: 'The network group has promised to mend the line to the gateway.',
        dueMs: anchorMs + 6 * HOUR_MS,
      },
    ],
  };
}

/** Someone sprays helium around the flanges; one of them passes a little of it. */
function leakCheck(anchorMs: number): Story {
  const fromMs = anchorMs - 40 * MINUTE_MS;
  const toMs = anchorMs + 50 * MINUTE_MS;
  const LAST_SPRAY_BEFORE_END_MS = 25 * MINUTE_MS;
  const SPRAY_EVERY_MS = 7 * MINUTE_MS;
  const FADE_MS = 2.2 * MINUTE_MS;
  const HELIUM = 4e-4;
  const helium = (atMs: number): SomeGases => {
    let load = 0;
    for (let sprayMs = fromMs + 4 * MINUTE_MS; sprayMs < toMs - LAST_SPRAY_BEFORE_END_MS; sprayMs += SPRAY_EVERY_MS) {
      if (atMs >= sprayMs) load += HELIUM * Math.exp(-(atMs - sprayMs) / FADE_MS);
    }
    return { He: load };
  };
  return {
    title: 'A leak check with helium, declared',
    chamber: 'east-hub',
    sinceMs: fromMs,
    expected: null,
    happenings: { spans: [{ state: 'leak-check', fromMs, toMs }], loads: [helium] },
  };
}

/** Nothing but its daily work: the cycle stands in the chamber's own description. */
const argonSteps = (anchorMs: number): Story => ({
  title: 'Argon on and off as the recipe says',
  chamber: 'east-coater',
  sinceMs: anchorMs - 72 * HOUR_MS,
  expected: null,
});

function afterBake(anchorMs: number): Story {
  const fromMs = anchorMs - 86 * HOUR_MS;
  const toMs = anchorMs - 64 * HOUR_MS;
  const coolMs = anchorMs - 50 * HOUR_MS;
  return {
    title: 'Baked three days ago and quiet since',
    chamber: 'heron-mirror-2',
    sinceMs: coolMs,
    expected: null,
    happenings: {
      bakes: [{ fromMs, toMs }],
      spans: [
        { state: 'bake', fromMs, toMs },
        { state: 'cool-down', fromMs: toMs, toMs: coolMs },
      ],
    },
  };
}
