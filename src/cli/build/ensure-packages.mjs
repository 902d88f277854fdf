// Installs the packages when they are missing or the lock file changed, so that one command is enough on a fresh clone.
// Node built-ins only: it runs before anything is installed. Everything it says goes to stderr, stdout is the program's.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../../', import.meta.url));

/** npm writes down what it installed in the same form as the lock file; what is missing there for this platform is optional. */
function isInstalled() {
  const written = `${root}node_modules/.package-lock.json`;
  if (!existsSync(written)) return false;
  const wanted = JSON.parse(readFileSync(`${root}package-lock.json`, 'utf8')).packages;
  const installed = JSON.parse(readFileSync(written, 'utf8')).packages;
  return Object.entries(wanted).every(
    ([path, { version, optional }]) =>
      path === '' || installed[path]?.version === version || (optional && !installed[path]),
  );
}

if (!isInstalled()) {
  process.stderr.write('Installing packages (once)…\n');
  const install = spawnSync('npm', ['ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (install.status !== 0) {
    process.stderr.write('The packages could not be installed: npm ci failed, see above.\n');
    process.exit(1);
  }
}
