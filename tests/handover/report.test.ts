import { describe, expect, it } from 'vitest';
import { AUDIENCES } from '../../src/discretion/audience';
import { escapedHtml } from '../../src/handover/html';
import { report } from '../../src/handover/report';
import { CAUTIONS } from '../../src/survey/cautions';
import { madeShare, TERMS } from './made-site';

const planner = madeShare('planner');
const text = report(planner, TERMS);

describe('the report', () => {
  it('is the same bytes for the same share', () => {
    expect(report(madeShare('planner'), TERMS)).toBe(text);
  });

  it('has no script and names no address to load anything from', () => {
    expect(text).not.toContain('<script');
    expect(text).not.toMatch(/(?:src|href|action)="(?!#)|url\((?!#)|@import/);
  });

  it('has map, zones with their paragraphs, methods, settings, accuracy, cautions, what was withheld and who', () => {
    for (const id of ['map', 'found', 'unknown', 'features', 'methods', 'accuracy', 'withheld', 'cautions', 'who'])
      expect(text, id).toContain(`<h2 id="${id}">`);
    for (const { paragraph } of planner.findings.zones) expect(text).toContain(escapedHtml(paragraph));
    for (const caution of CAUTIONS) expect(text).toContain(escapedHtml(caution));
    expect(text).toMatch(/Not reviewed by a licensed professional/);
    expect(text).toContain('Scale about 1 : ');
  });

  it('numbers its pages where the browser can', () => {
    expect(text).toContain('counter(page)');
  });

  it('speaks of computed accuracy, and not of a tested one', () => {
    expect(text).toContain('Computed, not tested');
    expect(text).not.toContain('NSSDA');
  });

  it('tells every kind of zone apart by its hatch and its words', () => {
    const hatches = [...text.matchAll(/fill="url\(#m-(\w+)\)"/g)].map(([, hatch]) => hatch);
    for (const hatch of ['void_like', 'layer_like', 'contact_like', 'unresolved', 'hint', 'setback', 'unsurveyed'])
      expect(hatches).toContain(hatch);
    expect(text).toContain('a hint: two-probe readings only');
  });

  it('has figures of findings for everybody, and of hints for those who can judge them', () => {
    const figures = (html: string): number => html.match(/<figure>/g)?.length ?? 0;
    const byAudience = AUDIENCES.map((audience) => figures(report(madeShare(audience), TERMS)));
    expect(byAudience[0]).toBe(byAudience[1]);
    expect(byAudience[2]).toBe(byAudience[3]);
    expect(byAudience[2]).toBeGreaterThan(0);
    expect(byAudience[0]).toBeGreaterThan(byAudience[2] ?? 0);
  });

  it('says when nothing can be excluded and nothing was found', () => {
    const lines = planner.findings.lines.map((line) => ({ ...line, corridors: [] }));
    const bare = { ...planner, findings: { ...planner.findings, lines, zones: [], doubts: [] } } as typeof planner;
    const empty = report(bare, { ...TERMS, contact: null, licence: null });
    expect(empty).toContain('That rules nothing out');
    expect(empty).toContain('none: no size of void can be excluded');
    expect(empty).toContain('Nobody is named');
  });
});
