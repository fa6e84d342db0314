/** With the person's own colours, marks and flags take the colour of text, an open flag that of the page, beds grey. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Looking, settled, startLooking } from './looking.ts';

let looking: Looking;
beforeAll(async () => {
  looking = await startLooking(Date.now());
});
afterAll(async () => {
  await looking?.close();
});

test.each(['light', 'dark'] as const)('strips and flags keep only the system’s colours, %s', async (colorScheme) => {
  const server = await looking.serve();
  const context = await looking.context({
    viewport: { width: 1440, height: 900 },
    forcedColors: 'active',
    colorScheme,
  });
  const page = await looking.open(context);
  await page.goto(server.address);
  await settled(page);
  const found = await page.evaluate(() => {
    const systemColour = (word: string): string => {
      const probe = document.body.appendChild(document.createElement('i'));
      probe.style.color = word;
      const { color } = getComputedStyle(probe);
      probe.remove();
      return color;
    };
    const all = (selector: string, property: 'fill' | 'stroke') => [
      ...new Set([...document.querySelectorAll(selector)].map((element) => getComputedStyle(element)[property])),
    ];
    return {
      text: systemColour('CanvasText'),
      page: systemColour('Canvas'),
      grey: systemColour('GrayText'),
      marks: all('.st-dash, .st-stem, .st-bd', 'fill'),
      beds: all('.st-well:not(.stale)', 'stroke'),
      cloth: all('.fl-cloth:not(.open)', 'fill'),
      open: all('.fl-cloth.open', 'fill'),
      edges: all('.fl-cloth', 'stroke'),
    };
  });
  expect(found.text).not.toBe(found.page);
  expect(found).toMatchObject({
    marks: [found.text],
    beds: [found.grey],
    cloth: [found.text],
    open: [found.page],
    edges: [found.text],
  });
  await context.close();
});
