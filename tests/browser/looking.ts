/** How the built page is opened and looked at: answers of one scene, Chromium, and what a person would trip over. */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { findings, openBrowser } from '../support/browser.ts';
import type { Scene } from '../web/fixture/answers.ts';
import { type FixtureServer, isBuilt, startFixtureServer } from '../web/fixture/server.ts';

export type SceneOf = Omit<Scene, 'nowMs'>;

export interface Looking {
  readonly serve: (scene?: SceneOf) => Promise<FixtureServer>;
  readonly context: (options?: BrowserContextOptions) => Promise<BrowserContext>;
  readonly open: (context: BrowserContext) => Promise<Page>;
  /** Findings of axe-core. */
  readonly inspect: (page: Page) => Promise<string[]>;
  /** Scripts that failed, and what the content policy refused. */
  readonly complaints: readonly string[];
  readonly close: () => Promise<void>;
}

export async function startLooking(nowMs: number): Promise<Looking> {
  if (!isBuilt()) throw new Error('the page is built before it is looked at: npm run build');
  const browser: Browser = await openBrowser();
  const servers: FixtureServer[] = [];
  const complaints: string[] = [];
  return {
    complaints,
    serve: async (scene = {}) => {
      const server = await startFixtureServer({ nowMs, ...scene });
      servers.push(server);
      return server;
    },
    context: (options) => browser.newContext({ reducedMotion: 'reduce', ...options }),
    open: async (context) => {
      const page = await context.newPage();
      page.on('pageerror', (error) => complaints.push(`${page.url()} ${error.message}`));
      page.on('console', (message) => {
        if (/content security policy|refused to/i.test(message.text()))
          complaints.push(`${page.url()} ${message.text()}`);
      });
      return page;
    },
    inspect: findings,
    close: async () => {
      await browser.close();
      for (const server of servers) await server.close();
    },
  };
}

/** The page has its sentence, its data and its type. */
export async function settled(page: Page): Promise<void> {
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForFunction(() => document.querySelector('.skeleton') === null);
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
}

/** Frames in a row in which nothing of the page changes before it counts as drawn. */
const STILL_FRAMES = 3;
/** A window without a screen is sometimes given no frame for a while; then what stands is looked at. */
const WITHOUT_FRAME_MS = 1_000;

/** Another window, and the page drawn anew for it: some pictures are told of their new width a frame later. */
export async function resize(page: Page, size: { width: number; height: number }): Promise<void> {
  await page.setViewportSize(size);
  await page.evaluate(
    ([frames, patienceMs]) =>
      new Promise<void>((done) => {
        let still = 0;
        let late = 0;
        const observer = new MutationObserver(() => {
          still = 0;
        });
        observer.observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
        requestAnimationFrame(function frame() {
          clearTimeout(late);
          still += 1;
          if (still > frames) {
            observer.disconnect();
            done();
            return;
          }
          late = window.setTimeout(done, patienceMs);
          requestAnimationFrame(frame);
        });
        late = window.setTimeout(done, patienceMs);
      }),
    [STILL_FRAMES, WITHOUT_FRAME_MS] as const,
  );
}

/** Pixels by which the page is wider than its window. */
export const sideways = (page: Page): Promise<number> =>
  page.evaluate(() => Math.max(0, document.documentElement.scrollWidth - window.innerWidth));

/** Words that do not fit where they stand, and pressed things that lie on each other. */
export const squeezed = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const clippedAway = (element: Element): boolean =>
      getComputedStyle(element).clipPath !== 'none' ||
      (element.parentElement !== null && clippedAway(element.parentElement));
    const seen = (element: Element): boolean =>
      element.checkVisibility({ visibilityProperty: true, opacityProperty: true, contentVisibilityAuto: true }) &&
      element.closest('[aria-hidden="true"]') === null &&
      !clippedAway(element);
    const name = (element: Element): string =>
      `${element.tagName.toLowerCase()} “${(element.textContent ?? '').trim().slice(0, 40)}”`;
    const clipped = [...document.querySelectorAll('button, .btn, h1, h2, h3, th, td, label, legend, summary, .m .txt')]
      .filter(seen)
      .filter((element) => element.clientWidth > 0 && element.scrollWidth > element.clientWidth + 1)
      .map((element) => `${name(element)} is ${element.scrollWidth - element.clientWidth} px too narrow`);
    const pressed = [
      ...document.querySelectorAll('button, a[href], select, input:not([type="file"]), textarea, summary'),
    ]
      .filter(seen)
      .filter((element) => element.closest('svg') === null);
    // A link in a running sentence breaks over lines: its pieces are judged one by one.
    const boxes = pressed.flatMap((element) => [...element.getClientRects()].map((box) => ({ element, box })));
    const overlaps: string[] = [];
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) {
        if (a.element === b.element || a.element.contains(b.element) || b.element.contains(a.element)) continue;
        // What stays at an edge of the window while the page moves under it covers the rest by design.
        if ((a.element.closest('.sign') === null) !== (b.element.closest('.sign') === null)) continue;
        const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        // Line boxes of neighbouring lines of text may touch.
        if (wide > 1 && high > 4) overlaps.push(`${name(a.element)} lies on ${name(b.element)}`);
      }
    });
    return [...clipped, ...overlaps];
  });

/**
 * What can be pressed and is smaller than `least` px in height or width. Links within a sentence and what the page
 * does not size itself are left out, as WCAG 2.2 (2.5.8, exceptions "inline" and "user agent control") leaves them.
 */
export const tooSmall = (page: Page, least: number): Promise<string[]> =>
  page.evaluate((px) => {
    const inSentence = (element: Element): boolean =>
      getComputedStyle(element).display === 'inline' || element.closest('svg') !== null;
    const target = (element: Element): Element =>
      element instanceof HTMLInputElement && /^(?:checkbox|radio|file)$/.test(element.type)
        ? (element.closest('label') ?? element)
        : element;
    return [...document.querySelectorAll('button, a[href], select, input, textarea, summary')]
      .filter((element) => element.checkVisibility({ visibilityProperty: true }) && element.closest('.unseen') === null)
      .map(target)
      .filter((element) => !inSentence(element))
      .map((element) => ({ element, box: element.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && (box.height < px - 0.5 || box.width < Math.min(px, 24) - 0.5))
      .map(
        ({ element, box }) =>
          `${element.tagName.toLowerCase()} “${(element.textContent ?? '').trim().slice(0, 30)}” ${Math.round(box.width)}×${Math.round(box.height)}`,
      );
  }, least);

/** Animations that run although the person asked for none. */
export const moving = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    document
      .getAnimations()
      .filter(({ playState, effect }) => {
        const { duration = 0 } = effect?.getTiming() ?? {};
        return playState === 'running' && Number(duration) > 1;
      })
      .map((animation) => (animation as CSSAnimation).animationName ?? 'transition'),
  );

export type Found = Record<string, readonly string[] | number>;

/** Only what was found, so that a failure reads as a list of faults. */
export const faults = (found: Found): Found =>
  Object.fromEntries(
    Object.entries(found).filter(([, what]) => (typeof what === 'number' ? what > 0 : what.length > 0)),
  );
