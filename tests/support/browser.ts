/** Chromium as people use it, headless: one browser per test file, and axe-core on the page that is open. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type Browser, chromium, type Page } from 'playwright-core';
import { chromiumPath } from './services.ts';

const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const openBrowser = (): Promise<Browser> => chromium.launch({ executablePath: chromiumPath(), args: QUIET });

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

type Axe = { run: (options: object) => Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };

/** Findings of axe-core (WCAG 2.2 A and AA, best practices) on the page as it stands; empty when there are none. */
export const findings = async (page: Page): Promise<string[]> => {
  // As the debugger's own script: the page's policy lets no foreign one in.
  if (await page.evaluate(() => !('axe' in window))) await page.evaluate(axe);
  return page.evaluate(async () => {
    const { violations } = await (window as unknown as { axe: Axe }).axe.run({ resultTypes: ['violations'] });
    return violations.map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .map((node) => node.html)
          .join(' | ')
          .slice(0, 400)}`,
    );
  });
};
