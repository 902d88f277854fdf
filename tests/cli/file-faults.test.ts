import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { asFileFault } from '../../src/cli/faults';
import { readSurvey } from '../../src/cli/read-survey';
import { writeFiles } from '../../src/cli/write-files';
import { folderWith, type Ran } from '../helpers/run-cli';

const ROOT = resolve(import.meta.dirname, '../..');
const NODE = `"${process.execPath}" --import tsx`;
const WRITER = JSON.stringify(join(ROOT, 'src/cli/write-files.ts'));
/** Root may do everything, so what is refused has to be refused to somebody else. */
const NOBODY = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};

const TABLES = {
  'positions.csv': 'line,chainage_m,lon,lat\nA,0,-91.9,37.4\nA,40,-91.8995483,37.4\n',
  'readings.csv': 'line,midpoint_m,spacing_m,value,unit,hookup\nA,10,2,300,ohm_m,pole_pole\n',
};

function shell(command: string, as: object = {}): Ran & { readonly signal: string | null } {
  const ran = spawnSync('sh', ['-c', command], { cwd: ROOT, encoding: 'utf8', timeout: 60_000, ...as });
  return { code: ran.status, stdout: ran.stdout, stderr: ran.stderr, signal: ran.signal };
}

/** Runs the command line where something is refused to it; gives the one line that it may say. */
function faultOfRun(before: string, args: string, as: object = {}): string {
  const ran = shell(`${before} exec ${NODE} src/cli/main.ts ${args}`, as);
  expect([ran.code, ran.stdout], ran.stderr).toEqual([2, '']);
  const lines = ran.stderr.trim().split('\n');
  expect(lines).toHaveLength(1);
  expect(lines[0]).toMatch(/^.+:\d+:.+: read ".*"; expected /);
  return lines[0] ?? '';
}

/** Writes two files into a folder in a process that is killed in the middle of the second. */
function killedWriting(folder: string): string | null {
  const script = join(folderWith({}), 'write.mts');
  writeFileSync(
    script,
    `import { readSurvey } from '../../src/cli/read-survey';
import { writeFiles } from ${WRITER};
     const pieces = (function* () { yield 'new'; process.kill(process.pid, 'SIGKILL'); yield ' b'; })();
     writeFiles(${JSON.stringify(folder)}, [{ name: 'a', text: 'new a' }, { name: 'b', text: pieces as never }], []);`,
  );
  return shell(`exec ${NODE} "${script}"`).signal;
}

const NEW = [
  { name: 'a', text: 'new a' },
  { name: 'b', text: ['new', ' b'] },
];

const contents = (folder: string): Record<string, string> =>
  Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')]));

describe('a command that is killed while it writes', () => {
  it('leaves a new folder unmade, and its leftovers go with the next run', () => {
    const parent = folderWith({});
    const folder = join(parent, 'out');
    expect(killedWriting(folder)).toBe('SIGKILL');
    expect(existsSync(folder)).toBe(false);
    // It was killed while it wrote, not before.
    expect(readdirSync(parent)).toEqual([expect.stringMatching(/^\.hollowline-/)]);
    writeFiles(folder, NEW, []);
    expect(readdirSync(parent)).toEqual(['out']);
    expect(contents(folder)).toEqual({ a: 'new a', b: 'new b' });
  });

  it('leaves an earlier run’s files as they were', () => {
    const folder = folderWith({ a: 'old a', b: 'old b', other: 'kept' });
    expect(killedWriting(folder)).toBe('SIGKILL');
    const [left = '', ...rest] = readdirSync(folder);
    expect([left, ...rest]).toEqual([expect.stringMatching(/^\.hollowline-/), 'a', 'b', 'other']);
    expect(['a', 'b'].map((name) => readFileSync(join(folder, name), 'utf8'))).toEqual(['old a', 'old b']);
    writeFiles(folder, NEW, []);
    expect(contents(folder)).toEqual({ a: 'new a', b: 'new b', other: 'kept' });
  });
});

describe('writing that is refused half-way', () => {
  it('puts everything back', () => {
    const folder = folderWith({ a: 'old a', c: 'old c' });
    // Takes away what was written for b, so that it cannot be moved into place once a was.
    const harm = (function* () {
      const [beside = ''] = readdirSync(folder).filter((name) => name.startsWith('.hollowline-'));
      rmSync(join(folder, beside, 'new', 'b'));
      yield 'new c';
    })();
    expect(() => writeFiles(folder, [...NEW, { name: 'c', text: harm as never }], [])).toThrow(/ENOENT/);
    expect(contents(folder)).toEqual({ a: 'old a', c: 'old c' });
  });

  it('on a full disk says so, and nothing is written', () => {
    const folder = folderWith({ ...TABLES, 'kept/about.json': 'old' });
    // A limit of the process on the size of files stands for a disk that is full.
    const said = faultOfRun('ulimit -f 1;', `map "${folder}" --out "${join(folder, 'kept')}"`);
    expect(said).toContain('read "EFBIG"; expected permission to write');
    expect(contents(join(folder, 'kept'))).toEqual({ 'about.json': 'old' });
    expect(readdirSync(folder).sort()).toEqual(['kept', 'positions.csv', 'readings.csv']);
  });

  it.skipIf(!existsSync('/dev/full'))('on a full disk behind a pipe says so too', () => {
    const ran = shell(`exec ${NODE} src/cli/main.ts schema > /dev/full`);
    expect([ran.code, ran.stderr]).toEqual([2, 'output:1:1: read "ENOSPC"; expected room on the disk\n']);
  });

  it('by a folder that may not be written to says so', () => {
    const folder = folderWith({ ...TABLES, 'shut/x': '' });
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'shut'), 0o555);
    const out = join(folder, 'shut/new');
    expect(faultOfRun('', `map "${folder}" --out "${out}"`, NOBODY)).toContain('read "EACCES"; expected permission');
    expect(readdirSync(join(folder, 'shut'))).toEqual(['x']);
  });
});

describe('input that cannot be read', () => {
  it('is a fault of one line: shut away, a link to itself, a link to nothing', () => {
    const folder = folderWith({ 'shut.csv': 'a,b\n' });
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'shut.csv'), 0);
    symlinkSync(join(folder, 'loop.csv'), join(folder, 'loop.csv'));
    symlinkSync(join(folder, 'nothing'), join(folder, 'readings.csv'));
    expect(faultOfRun('', `inventory report "${folder}/shut.csv"`, NOBODY)).toContain('shut.csv:1:1: read "EACCES"');
    expect(() => readSurvey(join(folder, 'loop.csv'), undefined)).toThrow(/loop\.csv:1:1: .* a survey file/);
    expect(() => readSurvey(folder, undefined)).toThrow(/readings\.csv:1:1: read "ENOENT"/);
  });

  it('does not stop the writing of what was read of it', () => {
    const folder = folderWith({});
    writeFiles(folder, NEW, [join(folder, 'gone.csv')]);
    expect(contents(folder)).toEqual({ a: 'new a', b: 'new b' });
  });

  it('is named by whatever the system said, and a mistake of ours is not', () => {
    const refused = Object.assign(new Error('x'), { code: 'ESOMETHING', syscall: 'open', path: '/a' });
    expect(asFileFault(refused)?.lines).toEqual(['/a:1:1: read "ESOMETHING"; expected the system to allow "open"']);
    expect(asFileFault(Object.assign(new Error('x'), { code: 'ERR_INVALID_ARG_TYPE' }))).toBeNull();
    expect(asFileFault(new TypeError('x'))).toBeNull();
  });
});
