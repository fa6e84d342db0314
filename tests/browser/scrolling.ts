/**
 * What a page does while it is scrolled, as Chromium and React themselves tell it. What runs in the page is written
 * as text: the benchmarks' own translation of functions would not be understood there.
 */
import type { Page } from 'playwright-core';

/**
 * Before a page is opened: nothing on it ticks, and what draws is counted. React tells each of its commits to
 * whoever stands where its developer tools would stand.
 */
export async function countDrawing(page: Page): Promise<void> {
  await page.addInitScript(`
    window.setInterval = () => 0;
    window.drawn = { commits: 0, pieces: 0 };
    window.__REACT_DEVTOOLS_GLOBAL_HOOK__ = {
      supportsFiber: true, renderers: new Map(), inject: () => 1,
      onCommitFiberRoot: () => { window.drawn.commits += 1; },
      onCommitFiberUnmount: () => {}, onPostCommitFiberRoot: () => {},
    };
    document.addEventListener('contentvisibilityautostatechange', () => { window.drawn.pieces += 1; }, true);
  `);
}

export interface Drawn {
  /** Of React. */
  readonly commits: number;
  /** Pieces of the page that the browser has taken into layout and paint, or left out again. */
  readonly pieces: number;
}

export const drawn = (page: Page): Promise<Drawn> => page.evaluate('({ ...window.drawn })') as Promise<Drawn>;

/** Waits until a page that nothing ticks on has drawn what it asked for. */
export async function stillness(page: Page): Promise<Drawn> {
  for (let last = await drawn(page); ; ) {
    await page.waitForTimeout(500);
    const now = await drawn(page);
    if (now.commits === last.commits) return now;
    last = now;
  }
}

/** Turns the wheel by one notch for each frame. */
export async function turnWheel(page: Page, notches: number): Promise<void> {
  const { width, height } = page.viewportSize() ?? { width: 0, height: 0 };
  await page.mouse.move(width / 2, height / 2);
  for (let i = 0; i < notches; i += 1) {
    await page.mouse.wheel(0, 120);
    await page.evaluate('new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))');
  }
}

/** Scrolls by one notch in each frame, down and up again. @returns milliseconds between two frames, on the mean */
export const scrolledFrameMs = async (page: Page, notches: number): Promise<number> =>
  Number(
    await page.evaluate(`new Promise((done) => {
      window.scrollTo(0, 0);
      let left = ${notches};
      let from = 0;
      const frame = (time) => {
        if (from === 0) from = time;
        else left -= 1;
        if (left <= 0) return done((time - from) / ${notches});
        window.scrollBy({ top: left > ${notches / 2} ? 120 : -120, behavior: 'instant' });
        requestAnimationFrame(frame);
      };
      requestAnimationFrame(() => requestAnimationFrame(frame));
    })`),
  );

/** Milliseconds of work of the page's main thread for each frame of the same scrolling. */
export async function scrolledWorkMs(page: Page, notches: number): Promise<number> {
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const busy = async () => {
    const { metrics } = await session.send('Performance.getMetrics');
    return 1000 * (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN);
  };
  const before = await busy();
  await scrolledFrameMs(page, notches);
  const work = (await busy()) - before;
  await session.detach();
  return work / notches;
}
