/**
 * Every page with words 40 % longer than the English ones, as other languages have them, under a finger: nothing scrolls
 * sideways, nothing is squeezed, everything can be pressed.
 */
import { describe, expect, test } from 'vitest';
import { type Found, faults, resize, settled, sideways, squeezed, tooSmall } from './looking.ts';
import { lookingAt, testOfComplaints } from './lookingAt.ts';
import { PAGES } from './scenes.ts';

const looking = lookingAt();

/** LOOK: 44 px under a finger. */
const FINGER = 44;
const DESK = { width: 1440, height: 900 };

describe('with words 40 % longer, under a finger', () => {
  for (const [name, path, scene] of PAGES) {
    test(name, async () => {
      const server = await looking().serve(scene);
      const context = await looking().context({ viewport: DESK, hasTouch: true, isMobile: true });
      await context.addInitScript(() => sessionStorage.setItem('ullage.words', 'stretched'));
      const page = await looking().open(context);
      await page.goto(server.address + path);
      await settled(page);
      const found: Found = {};
      for (const size of [DESK, { width: 390, height: 844 }, { width: 320, height: 640 }]) {
        await resize(page, size);
        found[`sideways at ${size.width}`] = await sideways(page);
        found[`squeezed at ${size.width}`] = await squeezed(page);
      }
      found['small targets'] = await tooSmall(page, FINGER);
      expect(faults(found)).toEqual({});
      await context.close();
    });
  }

  testOfComplaints(looking);
});
