import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

/*
 * The house: which room may import which. A room is a folder under src (or a file that is a room of its own).
 * Core rooms know no React, no map library, no DOM, no clock, no file system.
 */
const ROOMS: Record<string, readonly string[]> = {
  survey: [],
  'program-version': [],
  findings: ['survey'],
  position: ['survey'],
  ground: ['survey'],
  evidence: ['survey', 'position', 'ground', 'findings'],
  karst: ['survey', 'position', 'findings'],
  studies: ['survey', 'position', 'ground', 'findings', 'evidence', 'karst'],
  appraise: ['survey', 'position', 'ground', 'findings', 'evidence', 'karst', 'studies', 'program-version'],
  discretion: ['survey', 'findings', 'karst', 'position'],
  'exchange/read': ['survey', 'position', 'findings', 'discretion'],
  'exchange/write': ['survey', 'position', 'findings', 'discretion'],
  figures: ['findings', 'survey'],
  handover: ['exchange/write', 'figures', 'discretion', 'survey', 'findings', 'karst', 'position'],
  store: ['survey'],
  workers: ['core'],
  map: ['core'],
  'wall-clock': [],
  app: ['core', 'workers', 'map', 'store', 'wall-clock'],
  cli: ['core', 'wall-clock'],
};
const SHELLS = ['store', 'workers', 'map', 'wall-clock', 'app', 'cli'];
/** What core files may take from packages and from outside src. */
const CORE_PACKAGES = [
  '@noble/hashes',
  '@turf/union',
  '@turf/intersect',
  '@xmldom/xmldom',
  'fflate',
  'geographiclib-dms',
  'geographiclib-geodesic',
  'geojson',
  'geomagnetism',
  'ml-matrix',
  'papaparse',
  'polyclip-ts',
  'proj4',
  'sql.js',
  'zod',
];
/** The text of a script that runs in the page that is made from it, and never here. */
const SCRIPT_TEXT = 'src/handover/page-script.ts';
const CORE_OUTSIDE = ['styles/ramp.json', 'package.json'];

interface Import {
  readonly specifier: string;
  readonly typeOnly: boolean;
}

/** Static imports and re-exports of a source text. */
function importsOf(source: string): readonly Import[] {
  const found: Import[] = [];
  for (const match of source.matchAll(/^\s*(?:import|export)\s+(type\s+)?(?:[^'"]*?\sfrom\s+)?['"]([^'"]+)['"]/gm)) {
    found.push({ specifier: match[2] as string, typeOnly: match[1] !== undefined });
  }
  for (const match of source.matchAll(/\bimport\(\s*['"]([^'"]+)['"]\s*\)/g)) {
    found.push({ specifier: match[1] as string, typeOnly: false });
  }
  return found;
}

/** Chains of files that lead back to where they started. */
function circlesIn(graph: ReadonlyMap<string, readonly string[]>): string[] {
  const circles: string[] = [];
  const state = new Map<string, 'open' | 'done'>();
  const visit = (file: string, trail: readonly string[]): void => {
    if (state.get(file) === 'done') return;
    if (state.get(file) === 'open') {
      circles.push([...trail.slice(trail.indexOf(file)), file].join(' → '));
      return;
    }
    state.set(file, 'open');
    for (const next of graph.get(file) ?? []) visit(next, [...trail, file]);
    state.set(file, 'done');
  };
  for (const file of graph.keys()) visit(file, []);
  return circles;
}

const root = resolve(import.meta.dirname, '..');
const sources = (folder: string): string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return sources(path);
    return /\.(ts|tsx)$/.test(name) ? [path] : [];
  });
const files = sources(join(root, 'src'));

function roomOf(path: string): string {
  const [first = '', second = ''] = relative(join(root, 'src'), path).split('/');
  if (first === 'exchange') return `exchange/${second}`;
  return first.replace(/\.ts$/, '');
}

function resolved(from: string, specifier: string): string | null {
  const bare = specifier.replace(/\?.*$/, '');
  if (!bare.startsWith('.')) return null;
  const base = resolve(dirname(from), bare);
  return [base, `${base}.ts`, `${base}.tsx`].find((path) => files.includes(path) || /\.\w+$/.test(path)) ?? base;
}

describe('the rooms of src', () => {
  const imports = files.flatMap((file) => importsOf(readFileSync(file, 'utf8')).map((found) => ({ file, ...found })));

  it('are the ones of the table', () => {
    expect([...new Set(files.map(roomOf))].filter((room) => !(room in ROOMS))).toEqual([]);
  });

  it('import only along the arrows of the table', () => {
    const wrong = imports.flatMap(({ file, specifier, typeOnly }) => {
      const target = resolved(file, specifier);
      if (target === null || !target.startsWith(join(root, 'src'))) return [];
      const [from, to] = [roomOf(file), roomOf(target)];
      const allowed = ROOMS[from] ?? [];
      const may = from === to || allowed.includes(to) || (allowed.includes('core') && !SHELLS.includes(to));
      // Ground is pure numbers: of the record it may know types only, and how a refusal is said.
      const refusal = target.endsWith('/survey/outcome.ts');
      const numbersOnly = from === 'ground' && to === 'survey' && !typeOnly && !refusal;
      return may && !numbersOnly ? [] : [`${relative(root, file)} → ${relative(root, target)}`];
    });
    expect(wrong).toEqual([]);
  });

  it('of the core take nothing from outside but the packages and files listed', () => {
    const wrong = imports.flatMap(({ file, specifier, typeOnly }) => {
      if (SHELLS.includes(roomOf(file))) return [];
      const target = resolved(file, specifier);
      if (target === null) {
        const known = typeOnly || CORE_PACKAGES.some((name) => specifier === name || specifier.startsWith(`${name}/`));
        return known ? [] : [`${relative(root, file)} → ${specifier}`];
      }
      const path = relative(root, target);
      return path.startsWith('src/') || CORE_OUTSIDE.includes(path) ? [] : [`${relative(root, file)} → ${path}`];
    });
    expect(wrong).toEqual([]);
  });

  it('of the core ask no clock and no chance', () => {
    const wrong = files
      .filter((file) => !SHELLS.includes(roomOf(file)) && relative(root, file) !== SCRIPT_TEXT)
      .filter((file) =>
        /Math\.random|Date\.now|new Date\(\)|performance\.now|\bprocess\.|\bwindow\.|\bdocument\./.test(
          withoutComments(readFileSync(file, 'utf8')),
        ),
      )
      .map((file) => relative(root, file));
    expect(wrong).toEqual([]);
  });

  it('leave the pledge of what may be shown to the room of discretion', () => {
    const pledging = files.filter(
      (file) => roomOf(file) !== 'discretion' && /\basDisclosed\b/.test(readFileSync(file, 'utf8')),
    );
    expect(pledging.map((file) => relative(root, file))).toEqual([]);
  });

  it('have no circles', () => {
    const graph = new Map(
      files.map((file) => [
        relative(root, file),
        importsOf(readFileSync(file, 'utf8')).flatMap(({ specifier }) => {
          const target = resolved(file, specifier);
          return target && files.includes(target) ? [relative(root, target)] : [];
        }),
      ]),
    );
    expect(circlesIn(graph)).toEqual([]);
  });
});

const withoutComments = (source: string): string => source.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');

describe('the checks of these tests', () => {
  it('see every form of import', () => {
    const source = `import a from './a';\nimport type { B } from './b';\nexport { c } from './c';\nimport './d';\nimport {\n  e,\n} from './e';\nconst f = await import('./f');`;
    expect(importsOf(source).map(({ specifier }) => specifier)).toEqual(['./a', './b', './c', './d', './e', './f']);
    expect(importsOf(source)[1]?.typeOnly).toBe(true);
  });

  it('find a circle', () => {
    expect(
      circlesIn(
        new Map([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['a']],
        ]),
      ),
    ).toEqual(['a → b → c → a']);
    expect(
      circlesIn(
        new Map([
          ['a', ['b', 'c']],
          ['b', ['c']],
          ['c', []],
        ]),
      ),
    ).toEqual([]);
  });
});
