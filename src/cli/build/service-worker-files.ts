import { createHash } from 'node:crypto';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';

export const SERVICE_WORKER = 'service-worker.js';
const PAGE = 'index.html';
/** Pages say of themselves which build they are of. */
const NAMED_PAGE = /^[\w-]+\.html$/;

/**
 * Tells the built service worker, and the page, which build they are of: a name made from the content of every file. The worker
 * also gets the list of the files with their digests (W3C Subresource Integrity), the page as `./`.
 */
export async function fillServiceWorker(distDir: string): Promise<void> {
  const names = (await filesIn(distDir)).filter((name) => name !== SERVICE_WORKER && name !== PAGE);
  const page = await readFile(join(distDir, PAGE), 'utf8');
  const worker = await readFile(join(distDir, SERVICE_WORKER), 'utf8');
  const files = await Promise.all(
    names.map(async (name) => [name, digest(await readFile(join(distDir, name)))] as const),
  );

  const build = createHash('sha256')
    .update(JSON.stringify([files, page, worker]))
    .digest('hex')
    .slice(0, 8);
  const namedPage = put(page, '__BUILD__', build);
  const list = [
    ...(await Promise.all(
      files.map(async ([name, kept]) => [
        name,
        NAMED_PAGE.test(name) ? await nameBuild(join(distDir, name), build) : kept,
      ]),
    )),
    ['./', digest(Buffer.from(namedPage))],
  ];
  const namedWorker = put(put(worker, '__BUILD__', JSON.stringify(build)), '__FILES__', JSON.stringify(list));
  await writeFile(join(distDir, PAGE), namedPage);
  await writeFile(join(distDir, SERVICE_WORKER), namedWorker);
}

/** Writes into another page which build it is of; gives its digest. */
async function nameBuild(path: string, build: string): Promise<string> {
  const named = put(await readFile(path, 'utf8'), '__BUILD__', build);
  await writeFile(path, named);
  return digest(Buffer.from(named));
}

async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

const digest = (content: Buffer): string => `sha256-${createHash('sha256').update(content).digest('base64')}`;

/** A mark that is not there exactly once means that the build has changed under us. */
function put(text: string, mark: string, value: string): string {
  const [before, after, ...more] = text.split(mark);
  if (before === undefined || after === undefined || more.length > 0)
    throw new Error(`The build has no place for ${mark}.`);
  return before + value + after;
}
