import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

export interface FoundBrowser {
  readonly executablePath: string;
  /** What this build must be started with besides ours. */
  readonly args: readonly string[];
}

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

const USUAL_PLACES: Partial<Record<NodeJS.Platform, readonly string[]>> = {
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files\\Chromium\\Application\\chrome.exe',
  ],
};

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The browser for tests: the one named in HOLLOWLINE_CHROMIUM, else an installed one, else the one in the packages. */
export async function findBrowser(): Promise<FoundBrowser> {
  const named = process.env.HOLLOWLINE_CHROMIUM;
  if (named) {
    if (!existsSync(named)) throw new Error(`HOLLOWLINE_CHROMIUM names ${named}, which is not there.`);
    return { executablePath: named, args: [] };
  }
  const onPath = (process.env.PATH ?? '').split(delimiter).flatMap((folder) => NAMES.map((name) => join(folder, name)));
  const installed = [...onPath, ...(USUAL_PLACES[process.platform] ?? [])].find(isExecutable);
  if (installed) return { executablePath: installed, args: [] };

  // It unpacks the libraries that it needs only where it believes itself to be at home.
  process.env.AWS_LAMBDA_JS_RUNTIME ??= 'nodejs22.x';
  const { default: packed } = await import('@sparticuz/chromium');
  return { executablePath: await packed.executablePath(), args: [] };
}
