/** Months through the whole watch: what takes its time is remembered, and is no news while all is well. */
import { expect, test } from 'vitest';
import { judgeCourses } from '../../../shared/watch/courses.ts';
import { draftOf, emptyMemory, sealed } from '../../../shared/watch/memory.ts';
import { copyOverTime, emptyOverTime } from '../../../shared/watch/overTime.ts';
import { watched } from '../../support/world/frames.ts';

const chamber = watched(5);

test('a memory from before holds none of it, and is read all the same', () => {
  const { overTime: _absent, ...before } = chamber.memory as Record<string, unknown>;
  expect(draftOf(before)!.overTime).toEqual(emptyOverTime());
  expect(copyOverTime(undefined)).toEqual(emptyOverTime());
});

test('what is remembered survives as JSON, and yesterday stays what it was', () => {
  const memory = draftOf(chamber.memory)!;
  const before = JSON.stringify(chamber.memory);
  const input = { ...chamber.last, scan: { ...chamber.last.scan, atMs: memory.lastAtMs! + 86_400_000 } };
  expect(judgeCourses({ memory, context: chamber.context, input })).toEqual([]);
  expect(JSON.stringify(chamber.memory)).toBe(before);
  expect(JSON.parse(JSON.stringify(sealed(memory)))).toEqual(memory);
});

test('a new memory has no course', () => {
  const memory = emptyMemory('1', 'base', 0);
  expect(judgeCourses({ memory, context: chamber.context, input: chamber.last })).toEqual([]);
});
