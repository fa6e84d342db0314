import { expect, test } from 'vitest';
import { hashPassword, passwordFits } from '../../server/passwords.ts';

test('fit or do not; an unknown login has none that fits', async () => {
  const stored = await hashPassword('correct horse battery');
  expect(stored).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  expect(await hashPassword('correct horse battery')).not.toBe(stored);
  expect(await passwordFits(stored, 'correct horse battery')).toBe(true);
  expect(await passwordFits(stored, 'correct horse batterz')).toBe(false);
  expect(await passwordFits(null, 'nobody has this password')).toBe(false);
});

test('beyond a short queue are put off instead of taking all memory; the others are answered', async () => {
  const stored = await hashPassword('correct horse battery');
  const all = await Promise.allSettled(Array.from({ length: 40 }, () => passwordFits(stored, 'correct horse battery')));
  const refused = all.filter((one) => one.status === 'rejected');
  expect(refused.length).toBe(40 - 2 - 20);
  expect(refused.every((one) => one.status === 'rejected' && one.reason.status === 429)).toBe(true);
  expect(all.filter((one) => one.status === 'fulfilled').every((one) => one.status === 'fulfilled' && one.value)).toBe(
    true,
  );
  expect(await passwordFits(stored, 'correct horse battery')).toBe(true);
});
