/** What is done to a chamber or comes into it in more than one story. */
import { AIR_SHARE, type SomeGases } from './physics/gases.ts';
import type { Span } from './physics/timetable.ts';

/** Vapour in the air of a room at 20 °C and half saturated: 1170 Pa of 101 325 (common practice). */
const HUMID_SHARE = 0.0115;

/** So much dry air with the vapour that comes with it, Pa l/s. */
export const roomAir = (loadPaLitresPerSecond: number): SomeGases => ({
  ...Object.fromEntries(Object.entries(AIR_SHARE).map(([gas, share]) => [gas, share * loadPaLitresPerSecond])),
  H2O: HUMID_SHARE * loadPaLitresPerSecond,
});

export interface PumpDown {
  readonly ventedMs: number;
  readonly roughingMs: number;
  readonly pumpedMs: number;
  readonly baseMs: number;
}

/** The states that are declared from a vent until base. */
export function pumpDown({ ventedMs, roughingMs, pumpedMs, baseMs }: PumpDown): readonly Span[] {
  return [
    { state: 'vented', fromMs: ventedMs, toMs: roughingMs },
    { state: 'roughing', fromMs: roughingMs, toMs: pumpedMs },
    { state: 'pump-down', fromMs: pumpedMs, toMs: baseMs },
  ];
}
