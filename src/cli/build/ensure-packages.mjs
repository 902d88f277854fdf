// Installs the packages when they are missing or the lock file changed, so that one command is enough on a fresh clone.
// Node built-ins only: it runs before anything is installed. Everything it says goes to stderr, stdout is the program's.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../../', import.meta.url));
const lock = readFileSync(`${root}package-lock.json`, 'utf8');
const stamp = `${root}node_modules/.installed-lock.json`;

if (!existsSync(stamp) || readFileSync(stamp, 'utf8') !== lock) {
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
  writeFileSync(stamp, lock);
}
