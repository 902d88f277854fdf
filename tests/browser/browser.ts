import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { findBrowser } from './find-browser';

const ARGS = [
  // Drawing in software, so that every machine draws alike.
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--no-sandbox',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
  '--font-render-hinting=none',
];

/** Starts the browser. No browser is a failed test, never a skipped one. */
export async function startBrowser(): Promise<Browser> {
  const { executablePath, args } = await findBrowser();
  return chromium.launch({ executablePath, args: [...ARGS, ...args], headless: true });
}

export interface WatchedPage {
  readonly page: Page;
  /** Everything unexpected so far: console warnings and errors, exceptions, refused policies, requests going out. */
  readonly complaints: string[];
  close(): Promise<void>;
}

/** Software drawing is slow to read pixels back, and Chromium says so; it is no fault of the page. */
const EXPECTED = [/GPU stall due to ReadPixels/];

/** A page in a context of its own, listened to from its first request on. */
export async function watchedPage(browser: Browser, options: BrowserContextOptions = {}): Promise<WatchedPage> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  // Two files of tests run side by side, and drawing is done in software.
  page.setDefaultTimeout(60_000);
  const complaints: string[] = [];
  page.on('console', (message) => {
    const text = message.text();
    if (!['error', 'warning'].includes(message.type()) || EXPECTED.some((expected) => expected.test(text))) return;
    complaints.push(`console ${message.type()}: ${text}`);
  });
  page.on('pageerror', (error) => complaints.push(`exception: ${error.message}`));
  page.on('requestfailed', (request) => complaints.push(`failed: ${request.url()} ${request.failure()?.errorText}`));
  page.on('response', (response) => {
    if (response.status() >= 400) complaints.push(`answer ${response.status()}: ${response.url()}`);
  });
  context.on('request', (request) => {
    const { protocol, hostname } = new URL(request.url());
    const inside = (protocol === 'http:' && hostname === '127.0.0.1') || protocol === 'blob:';
    if (!inside) complaints.push(`request going out: ${request.url()}`);
  });
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) =>
      console.error(`policy: ${event.violatedDirective} refused ${event.blockedURI}`),
    );
  });
  return { page, complaints, close: () => context.close() };
}
