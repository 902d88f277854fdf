import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import geodesics from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { shortText } from '../../src/handover/html';
import { PAGE_SCRIPT } from '../../src/handover/page-script';
import { pageSite } from '../../src/handover/page-site';
import { findableWords, storyOf } from '../../src/handover/page-story';
import { pageStyle } from '../../src/handover/page-style';
import { plannerPage } from '../../src/handover/planner-page';
import { report } from '../../src/handover/report';
import { isTwoProbe } from '../../src/survey/hookup';
import { ZONE_STEPS } from '../../src/survey/zone-steps';
import { madeShare, TERMS } from './made-site';

const planner = madeShare('planner');
const page = plannerPage(planner, TERMS);

describe('the planner’s page', () => {
  it('is the same bytes for the same share', () => {
    expect(plannerPage(madeShare('planner'), TERMS)).toBe(page);
  });

  it('names no address to load anything from, and forbids it', () => {
    expect(page).not.toMatch(/(?:src|href|action)="(?!#)/);
    expect(page).not.toMatch(/url\((?!#)/);
    expect(page).not.toMatch(/@import|https?:\/\/(?!www\.w3\.org\/2000\/svg)/);
    expect(page).toContain('content="default-src &#39;none&#39;; script-src &#39;sha256-');
  });

  it('is far below three megabytes', () => {
    expect(new TextEncoder().encode(page).length).toBeLessThan(3e6);
  });

  it('answers what was looked for, where, how small a void would have shown, what was found, what is unknown, whom to ask', () => {
    const answers = Object.fromEntries(storyOf(planner, TERMS).map(({ key, answer }) => [key, answer]));
    expect(answers.what).toContain('hollows');
    expect(answers.where).toBe('9 lines, 368 m in all, read 2026-05-12 to 2026-05-14.');
    expect(answers.smallest).toContain('radius 2 m, centre 3 m down');
    expect(answers.found).toContain('5 zones: 1 like a void');
    expect(answers.unknown).toContain('not surveyed, never safe');
    expect(answers.whom).toContain('Office of Works');
    expect(storyOf(planner, { ...TERMS, contact: null }).at(-1)?.answer).toContain('Nobody is named');
  });

  it('says that nothing can be excluded where there is no corridor', () => {
    const lines = planner.findings.lines.map((line) => ({ ...line, corridors: [] }));
    const bare = { ...planner, findings: { ...planner.findings, lines, zones: [] } } as typeof planner;
    const answers = Object.fromEntries(storyOf(bare, TERMS).map(({ key, answer }) => [key, answer]));
    expect(answers.smallest).toBe('No size of void can be excluded anywhere.');
    expect(answers.unknown).toContain('All of the ground.');
    expect(answers.found).toContain('rules nothing out');
  });

  it('tells nothing different from nothing compared', () => {
    const found = (ratio: 1 | null): string => {
      const lines = planner.findings.lines.map((line) => ({
        ...line,
        midpoints: line.midpoints.map((midpoint) => ({ ...midpoint, ratio })),
      }));
      const bare = { ...planner, findings: { ...planner.findings, lines, zones: [] } } as typeof planner;
      const answer = storyOf(bare, TERMS).find(({ key }) => key === 'found')?.answer ?? '';
      const said = /^[^.]*\./.exec(answer)?.[0] ?? 'no answer';
      expect(plannerPage(bare, TERMS)).toContain(`<p>${said}`);
      expect(report(bare, TERMS)).toContain(`<p>${said}`);
      return said;
    };
    expect(found(1)).toBe('No readings stand out together.');
    expect(found(null)).toBe('Nothing could be compared: the readings have no reference.');
  });

  it('says how small a void a search would have found, and which lines were not searched', () => {
    const [first, second] = planner.findings.lines.map(({ lineId }) => lineId);
    if (!first || !second) throw new Error('the demo has lines');
    // Ten places of each line at each depth; the tenth of the first line needs a larger one.
    const findable = [first, second].flatMap((lineId) =>
      [1.9, 3.1, 5].flatMap((depthM) =>
        Array.from({ length: 10 }, (_, i) => ({
          ...{ lineId, kind: 'passage' as const, chainageM: i, depthM },
          radiusM: lineId === first && i === 9 ? null : depthM / 2.5,
        })),
      ),
    );
    const findings = { ...planner.findings, findable, searchedLines: [first, second] };
    const answers = Object.fromEntries(
      storyOf({ ...planner, findings }, TERMS).map(({ key, answer }) => [key, answer]),
    );
    // 3.1 / 2.5 = 1.24, told not smaller than it is.
    expect(answers.smallest).toMatch(
      /^Under the searched lines \(2 of 9\), 3\.1 m down: a passage across of radius 1\.3 m, at/,
    );
    expect(answers.found).toContain('7 lines not searched for a void.');
    expect(
      findableWords(
        findable.map((each) => ({ ...each, radiusM: null })),
        findings.provenance.settings,
      ),
    ).toBe(null);
    const paper = report({ ...planner, findings }, TERMS);
    expect(paper.match(/yes: 3\.1 m down: a passage/g)).toHaveLength(2);
    expect(paper).toContain('under lines that were searched, a smaller or deeper void may still be there');
  });

  it('asks outsiders for nothing that only a surveyor can do, and proposes no readings that they do not get', () => {
    for (const audience of ['planner', 'public'] as const) {
      const { findings } = madeShare(audience);
      const paragraphs = findings.zones.map(({ paragraph }) => paragraph).join(' ');
      expect(findings.nextReadings).toEqual([]);
      for (const { todo } of Object.values(ZONE_STEPS)) expect(paragraphs).not.toContain(todo);
      expect(paragraphs).toContain(ZONE_STEPS.unresolved.toAsk);
    }
    expect(madeShare('keeper').findings.zones[0]?.paragraph).toContain(ZONE_STEPS.unresolved.todo);
  });

  it('shows outsiders no two-probe reading as graded, even where the share had it', () => {
    const graded = {
      ...planner,
      findings: {
        ...planner.findings,
        lines: planner.findings.lines.map((line) => ({
          ...line,
          midpoints: line.midpoints.map((midpoint) => ({
            ...midpoint,
            grade: 'strong' as const,
            sign: 'above_reference' as const,
          })),
        })),
      },
    } as typeof planner;
    const twoProbe = new Set(
      graded.findings.lines.flatMap(({ midpoints }) =>
        midpoints.filter(({ hookup }) => isTwoProbe(hookup)).map(({ key }) => key),
      ),
    );
    const keysOf = (share: typeof planner) =>
      new Set(
        pageSite(share).data.segments.flatMap(({ id, key }) =>
          twoProbe.has(id.replace(/:midpoint:\d+$/, '')) ? [key] : [],
        ),
      );
    expect(keysOf(graded)).toEqual(new Set(['not_graded']));
    expect(keysOf({ ...graded, audience: 'keeper' } as typeof planner)).toContain('strong_above');
  });

  it('has its places in true metres: a line is as long on the map as the geodesics of its track', () => {
    const { data } = pageSite(planner);
    for (const { name, pieces } of data.lines) {
      const onMap = legs(pieces.flat()).reduce((sum, [p, q]) => sum + Math.hypot(q[0] - p[0], q[1] - p[1]), 0);
      const track = planner.findings.lines.find((line) => line.name === name)?.track ?? [];
      // Geodesics of Karney's GeographicLib, an outside library; seven decimals of a degree are about a centimetre.
      const geodesic = legs(track.filter(({ corner }) => corner)).reduce(
        (sum, [p, q]) => sum + (geodesics.Geodesic.WGS84.Inverse(p.lat, p.lon, q.lat, q.lon).s12 ?? 0),
        0,
      );
      expect(Math.abs(onMap - geodesic)).toBeLessThan(0.03);
    }
  });

  it('opens for a survey that has nothing yet', () => {
    const none = {
      lines: [],
      zones: [],
      doubts: [],
      references: [],
      nextReadings: [],
      findable: [],
      searchedLines: [],
    };
    const bare = {
      ...planner,
      survey: { ...planner.survey, features: [], lines: [], readings: [], outings: [] },
      findings: { ...planner.findings, ...none },
    } as unknown as typeof planner;
    const empty = plannerPage(bare, TERMS);
    expect(empty).not.toMatch(/NaN|undefined|Infinity/);
    expect(empty).toContain('0 lines, 0 m in all.');
  });

  it('writes no number that is none', () => {
    expect(page).not.toMatch(/NaN|undefined|Infinity/);
  });

  it('has the colours of the app’s tokens, by day and by night', () => {
    const tokens = readFileSync(join(import.meta.dirname, '../../styles/tokens.css'), 'utf8');
    const [, day, night] = /^(.*?)(@media.*)$/.exec(pageStyle().replace(/\n/g, ' ')) ?? [];
    for (const [theme, css] of [
      ['light', day],
      ['dark', night?.slice(0, night.indexOf('@media print'))],
    ] as const) {
      const block = new RegExp(`data-theme="${theme}"\\] \\{([^}]*)\\}`).exec(tokens)?.[1] ?? '';
      const own = [...(css ?? '').matchAll(/--((?:paper|ink|rule|accent|on-accent|serious|map)[\w-]*):(#\w+);/g)];
      expect(own.length, theme).toBe(11);
      for (const [, name, colour] of own) expect(block, `${theme} ${name}`).toContain(`--${name}: ${colour};`);
    }
  });

  it('has a script that the linter accepts', () => {
    const folder = mkdtempSync(join(tmpdir(), 'page-script-'));
    writeFileSync(join(folder, 'page.cjs'), PAGE_SCRIPT);
    writeFileSync(join(folder, 'biome.json'), '{"linter":{"rules":{"preset":"recommended"}}}');
    // Templates cannot stand in a text that is a template itself.
    const args = ['lint', '--error-on-warnings', '--skip=style/useTemplate', 'page.cjs'];
    const biome = join(import.meta.dirname, '../../node_modules/.bin/biome');
    const run = spawnSync(biome, args, { cwd: folder, encoding: 'utf8' });
    rmSync(folder, { recursive: true });
    expect({ status: run.status, said: run.stdout + run.stderr }).toEqual({
      status: 0,
      said: expect.stringContaining('Checked 1 file'),
    });
    expect(PAGE_SCRIPT).not.toMatch(/innerHTML|insertAdjacentHTML|document\.write|eval\(/);
  });
});

const legs = <T>(points: readonly T[]): (readonly [T, T])[] =>
  points.slice(1).map((to, i) => [points[i] as T, to] as const);

describe('a page with hostile names', () => {
  const names = [
    '<img src=x onerror=alert(1)>',
    '</script><script>alert(1)</script>',
    '</style><b>',
    '"><svg onload=alert(1)>',
    '\u202egpj.exe',
    'x'.repeat(10_000),
    '🕳️👩‍👩‍👧',
    'nul \u0000 here',
    '\ud800 alone',
  ].join(' ');
  const hostile = plannerPage(madeShare('keeper', { names }), {
    ...TERMS,
    contact: names,
    licence: names,
    title: names,
  });

  it('has none of them as markup, and none that turns the text around it', () => {
    expect(hostile).not.toMatch(/<img|<b>|<svg onload|<script>alert/);
    expect(hostile.match(/<\/script>/g)).toHaveLength(1);
    expect(hostile).not.toMatch(/[\u202a-\u202e\u2066-\u2069]|\p{Surrogate}/u);
    expect(hostile).not.toContain('\u0000');
    expect(hostile).toContain('&lt;img src=x onerror=alert(1)&gt;');
  });

  it('shortens a name by characters and not in the middle of one', () => {
    expect(shortText('🕳️'.repeat(50), 5)).toBe('🕳️🕳️…');
    expect(shortText('short')).toBe('short');
  });
});
