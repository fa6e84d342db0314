import { expect, test } from 'vitest';
import { floorSays } from '../../../web/measurement/FloorsSection.tsx';

const line = { gas: 'N2', floor: 1e-11, limit: null, detected: false, value: null, changeSigma: 1e-12 };

test.each([
  [
    'a gas that is seen stands so many times above its floor',
    { detected: true, value: 3.9e-10 },
    'seen, 39 times its floor',
  ],
  [
    'a floor that is not known says nothing of that',
    { detected: true, value: 3e-10, floor: null },
    'seen in the last scan',
  ],
  ['noise alone', { limit: 1.2e-11 }, 'not seen; the noise alone decides'],
  ['other gases in the way', { limit: 7.8e-10 }, 'not seen; other gases on its masses cost a factor 78'],
  ['no limit', {}, 'cannot tell: this scan gives no limit'],
])('%s', (_what, changed, says) => {
  expect(floorSays({ ...line, ...changed })).toBe(says);
});
