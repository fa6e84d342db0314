import { describe, expect, test } from 'vitest';
import { coursesView } from '../../../shared/watch/coursesView.ts';
import { emptyMemory, sealed } from '../../../shared/watch/memory.ts';

const memoryWith = (gain: readonly (readonly [number, number])[]) => {
  const memory = emptyMemory('cal', 'base', 0);
  memory.overTime.life = { ...memory.overTime.life, gain };
  return sealed(memory);
};

describe('slow courses for people', () => {
  test('nothing is going on in a fresh memory, and nothing can be said in one of another format', () => {
    expect(coursesView(sealed(emptyMemory('cal', 'base', 0)))).toEqual({ pumpDown: null, life: [] });
    expect(coursesView({ format: 99 })).toEqual({ pumpDown: null, life: [] });
  });

  test('a gain that falls by a tenth of its way a day is at its end when the way is over', () => {
    // ln gain falls from 7 by ln 2 / 20 a day: half of it is left after 20 days, of which 10 have gone.
    const gain = Array.from({ length: 11 }, (_, day) => [day, 7 - (day * Math.LN2) / 20] as const);
    const [life] = coursesView(memoryWith(gain)).life;
    expect(life?.kind).toBe('gain');
    // The level counts from the middle of the first five days, which is two days' fall below the first.
    expect(life?.gone).toBeCloseTo(8 / 20, 6);
    expect(life?.arrival.at).toBeCloseTo(12, 6);
  });

  test('a gain that does not fall never comes to its end: null, which survives JSON', () => {
    const gain = Array.from({ length: 12 }, (_, day) => [day, 7 + 0.01 * ((day * 7) % 3)] as const);
    const [life] = coursesView(memoryWith(gain)).life;
    expect(life?.arrival.latest).toBeNull();
    expect(JSON.parse(JSON.stringify(life))).toEqual(life);
  });
});
