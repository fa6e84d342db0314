/**
 * How quickly the overview of 200 chambers stands and follows a key, in Chromium on this machine. Each time is put
 * beside an anchor of the same run: for the load a page without script whose HTML has the same bytes as the overview
 * when it stands; for a key a plain page of the same elements whose selected row changes by one class. Caches are
 * warm, medians of several runs. Ratios can be compared between machines, milliseconds cannot. While it is scrolled,
 * an overview of a thousand chambers is put beside a plain page of as many elements and as many bytes: lines of text.
 * The time between two frames cannot fall below that of the screen; the work of the main thread can.
 * The page is the one that was built last (`npm run build`).
 */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Page } from 'playwright-core';
import { type Looking, settled, startLooking } from '../browser/looking.ts';
import { scrolledFrameMs, scrolledWorkMs } from '../browser/scrolling.ts';
import { manyChambers } from '../web/fixture/manyChambers.ts';

const CHAMBERS = Number(process.env.BENCH_CHAMBERS ?? 200);
const RUNS = Number(process.env.BENCH_RUNS ?? 9);
const KEYS = 20;
const SCROLLED = Number(process.env.BENCH_SCROLLED ?? 1000);
const NOTCHES = 80;
const NOW = Date.now();
const DESK = { width: 1440, height: 900 };

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] as number;

/** From leaving the address to a drawn page; `ready` waits for what counts as standing. */
async function loadMs(page: Page, address: string, ready: (page: Page) => Promise<unknown>): Promise<number> {
  const from = performance.now();
  await page.goto(address);
  await ready(page);
  await page.evaluate('new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))');
  return performance.now() - from;
}

/** Milliseconds from a change to the frame that shows it; `change` is an expression of the page. */
const frameMs = async (page: Page, change: string): Promise<number> =>
  Number(
    await page.evaluate(`new Promise((done) => {
      requestAnimationFrame(() => {
        const from = performance.now();
        ${change};
        document.body.getBoundingClientRect();
        const channel = new MessageChannel();
        channel.port1.onmessage = () => done(performance.now() - from);
        requestAnimationFrame(() => channel.port2.postMessage(null));
      });
    })`),
  );

const press = (key: string) =>
  `document.body.dispatchEvent(new KeyboardEvent('keydown', { key: '${key}', bubbles: true, cancelable: true }))`;

async function times(runs: number, one: (run: number) => Promise<number>): Promise<number> {
  await one(0);
  const found: number[] = [];
  for (let run = 1; run <= runs; run += 1) found.push(await one(run));
  return median(found);
}

async function servePlain(html: string): Promise<{ address: string; close: () => void }> {
  const server = createServer((_request, response) => {
    response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' });
    response.end(html);
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  return { address: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, close: () => server.close() };
}

const line = (what: string, ms: number, anchorMs: number) =>
  console.log(
    `${what.padEnd(34)} ${(ms / anchorMs).toFixed(2).padStart(6)} ×  (${ms.toFixed(1)} ms beside ${anchorMs.toFixed(1)} ms)`,
  );

const openOverview = async (looking: Looking, chambers: number) => {
  const server = await looking.serve();
  const page = await looking.open(await looking.context({ viewport: DESK }));
  const round = manyChambers(NOW, chambers);
  await page.route('**/api/v1/round', (route) => route.fulfill({ json: round }));
  const stands = async () => {
    await settled(page);
    await page.getByText(`Chamber ${chambers - 1}`, { exact: true }).waitFor({ state: 'attached' });
  };
  return { page, address: server.address, stands };
};

/** Lines of text in blocks: as many elements and, to a few, as many bytes as asked for. */
function linesOfText(elements: number, bytes: number): string {
  const lines = Math.floor(elements / 2);
  const letters = Math.max(1, Math.floor(bytes / lines) - '<p><b></b></p>'.length);
  return `<!doctype html><title>Lines</title>${`<p><b>${'a chamber at rest '.repeat(letters).slice(0, letters)}</b></p>`.repeat(lines)}`;
}

/** Each run scrolls the same way; runs of both pages take turns, so that a busy machine is busy for both. */
async function scrolling(looking: Looking): Promise<void> {
  const { page, address, stands } = await openOverview(looking, SCROLLED);
  await page.goto(address);
  await stands();
  const [elements, bytes] = (await page.evaluate(
    "[document.querySelectorAll('*').length, new Blob([document.documentElement.outerHTML]).size]",
  )) as [number, number];
  const still = await looking.open(await looking.context({ viewport: DESK }));
  await still.setContent(linesOfText(elements, bytes));
  console.log(`${SCROLLED} chambers scrolled by ${NOTCHES} notches, ${elements} elements, ${bytes} bytes of HTML`);
  for (const [what, measure] of [
    ['scrolling, from frame to frame', scrolledFrameMs],
    ['scrolling, main thread per frame', scrolledWorkMs],
  ] as const) {
    const [found, anchors]: [number[], number[]] = [[], []];
    for (let run = 0; run < RUNS; run += 1) {
      await page.bringToFront();
      found.push(await measure(page, NOTCHES));
      await still.bringToFront();
      anchors.push(await measure(still, NOTCHES));
    }
    line(what, median(found), median(anchors));
  }
}

async function bench(looking: Looking): Promise<void> {
  const { page, address, stands } = await openOverview(looking, CHAMBERS);
  const overview = await times(RUNS, () => loadMs(page, address, stands));

  // The same elements and the same sheets, without a script.
  const html = `<!doctype html>${String(
    await page.evaluate(`(() => {
      const copy = document.documentElement.cloneNode(true);
      for (const script of copy.querySelectorAll('script')) script.remove();
      for (const sheet of copy.querySelectorAll('link[rel="stylesheet"]')) sheet.href = new URL(sheet.getAttribute('href'), location.href).href;
      return copy.outerHTML;
    })()`),
  )}`;
  const plain = await servePlain(html);
  const still = await looking.open(await looking.context({ viewport: DESK }));
  const anchor = await times(RUNS, () =>
    loadMs(still, plain.address, (drawn) => drawn.getByRole('heading', { level: 1 }).waitFor()),
  );

  const key = await times(KEYS, (run) => frameMs(page, press(run % 4 < 2 ? 'j' : 'k')));
  const keyAnchor = await times(KEYS, (run) =>
    frameMs(still, `document.querySelectorAll('article, .rest .l')[${run % 4}].classList.toggle('sel')`),
  );
  plain.close();

  console.log(`${CHAMBERS} chambers, ${html.length} bytes of HTML, median of ${RUNS} loads and ${KEYS} keys`);
  line('overview, warm, until it stands', overview, anchor);
  line('j or k, until the next frame', key, keyAnchor);
}

const looking = await startLooking(NOW);
try {
  await bench(looking);
  await scrolling(looking);
} finally {
  await looking.close();
}
