/** Chromium as people use it, headless: one browser per test file, and axe-core on the page that is open. */
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

const axe = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** Findings of axe-core (WCAG 2.2 A and AA, best practices) on the page as it stands; empty when there are none. */
export const findings = async (page: Page): Promise<string[]> => {
  await page.addScriptTag({ path: axe }).catch(async () => {
    // The page's own policy lets no foreign script in; the test may.
    const { readFileSync } = await import('node:fs');
    await page.evaluate(readFileSync(axe, 'utf8'));
  });
  return page.evaluate(async () => {
    const { violations } = await (
      window as unknown as { axe: { run: () => Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } }
    ).axe.run();
    return violations.map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .map((node) => node.html)
          .join(' | ')
          .slice(0, 400)}`,
    );
  });
};
