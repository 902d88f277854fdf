import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { type Browser, chromium } from 'playwright-core';
import { findBrowser } from './find-browser';

export interface KillableBrowser {
  readonly browser: Browser;
  /** Ends the browser as a dead battery would: nothing is finished, nothing is flushed. */
  kill(): Promise<void>;
  close(): Promise<void>;
}

/** A browser with its files in a folder, so that it finds them again after it was killed. */
export async function startKillable(folder: string): Promise<KillableBrowser> {
  const { executablePath, args } = await findBrowser();
  const own = ['--headless', '--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'];
  const where = [`--user-data-dir=${folder}`, '--remote-debugging-port=0', 'about:blank'];
  const child = spawn(executablePath, [...own, ...args, ...where], { stdio: ['ignore', 'ignore', 'pipe'] });
  const gone = once(child, 'exit');
  const browser = await chromium.connectOverCDP(await addressOf(child));
  const kill = async (): Promise<void> => {
    child.kill('SIGKILL');
    await gone;
  };
  return {
    browser,
    kill,
    async close() {
      const session = await browser.newBrowserCDPSession();
      await session.send('Browser.close').catch(() => undefined);
      await gone;
    },
  };
}

function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.stderr?.on('data', (bytes: Buffer) => {
      said += bytes.toString();
      const found = /DevTools listening on (ws:\S+)/.exec(said);
      if (found?.[1]) resolve(found[1]);
    });
    child.once('exit', () => reject(new Error(`The browser ended at its start: ${said.slice(0, 500)}`)));
  });
}
