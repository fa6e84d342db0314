import { expect, test } from 'vitest';
import { openGate } from '../../workers/gate.ts';

const held = () => {
  let end = (_value: boolean) => {};
  const work = new Promise<boolean>((resolve) => {
    end = resolve;
  });
  return { work: () => work, end: (value: boolean) => end(value) };
};

test('one is let in, one waits, and a third is turned away', async () => {
  const gate = openGate();
  const [first, second] = [held(), held()];
  const began: string[] = [];
  const inside = gate(() => {
    began.push('first');
    return first.work();
  });
  const waiting = gate(() => {
    began.push('second');
    return second.work();
  });
  expect(
    await gate(async () => {
      began.push('third');
      return true;
    }),
  ).toBe(false);
  expect(began).toEqual(['first']);
  first.end(true);
  expect(await inside).toBe(true);
  await expect.poll(() => began).toEqual(['first', 'second']);
  const next = gate(async () => {
    began.push('fourth');
    return false;
  });
  second.end(true);
  expect(await waiting).toBe(true);
  expect(await next).toBe(false);
  expect(began).toEqual(['first', 'second', 'fourth']);
});

test('work that fails opens it again, and who waited is not told of it', async () => {
  const gate = openGate();
  const failing = gate(async () => {
    throw new Error('cannot');
  });
  const waiting = gate(async () => true);
  await expect(failing).rejects.toThrow('cannot');
  expect(await waiting).toBe(true);
  expect(await gate(async () => true)).toBe(true);
});
