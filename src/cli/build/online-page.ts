import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { ONLINE_PAGE, ONLINE_POLICY, PAGE_POLICY } from '../security-headers.ts';

/** By this the app knows on which of its two pages it runs. */
const MARK = '<meta name="hollowline-tiles" content="allowed" />';

/**
 * Puts a second page beside the built one: the same app, but with the policy that lets it ask other servers for tiles.
 * Throws where the built page does not have its policy once.
 */
export async function makeOnlinePage(distDir: string): Promise<void> {
  const page = await readFile(join(distDir, 'index.html'), 'utf8');
  const written = [PAGE_POLICY, PAGE_POLICY.replaceAll("'", '&#39;')].find((policy) => page.includes(policy));
  const [before, after, ...more] = written === undefined ? [] : page.split(written);
  if (written === undefined || before === undefined || after === undefined || more.length > 0) {
    throw new Error('The built page does not state its policy once.');
  }
  const policy = written === PAGE_POLICY ? ONLINE_POLICY : ONLINE_POLICY.replaceAll("'", '&#39;');
  const online = (before + policy + after).replace('<title>', `${MARK}\n    <title>`);
  if (!online.includes(MARK)) throw new Error('The built page has no title.');
  await writeFile(join(distDir, ONLINE_PAGE), online);
}
