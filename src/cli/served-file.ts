import { realpath, stat } from 'node:fs/promises';
import { join, resolve, sep } from 'node:path';

/**
 * The file that a request path means, or null.
 * Only plain files whose real place, links followed, is inside `rootDir`; `/` means `index.html`.
 */
export async function servedFile(rootDir: string, urlPath: string): Promise<string | null> {
  const decoded = decodePath(urlPath);
  if (decoded === null) return null;
  const root = await realpath(rootDir);
  const wanted = resolve(join(root, decoded.endsWith('/') ? `${decoded}index.html` : decoded));
  if (!wanted.startsWith(root + sep)) return null;
  try {
    const real = await realpath(wanted);
    if (!real.startsWith(root + sep)) return null;
    return (await stat(real)).isFile() ? real : null;
  } catch {
    return null;
  }
}

/** Null for a path that is not what it seems: bad escapes, NUL, backslashes, a dot or a hidden name as a step. */
function decodePath(urlPath: string): string | null {
  let decoded: string;
  try {
    decoded = decodeURIComponent(urlPath);
  } catch {
    return null;
  }
  if (!decoded.startsWith('/') || /[\0\\]/.test(decoded)) return null;
  return decoded.split('/').some((step) => step.startsWith('.')) ? null : decoded;
}
