import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { geojsonText } from '../../src/exchange/write/geojson';
import { LAYER_NAMES } from '../../src/exchange/write/layers';
import { createFindingsTable } from '../../src/workers/findings-table';
import { DEMO_FILE, demoContent } from '../app/demo-content';

const demo = () => new Uint8Array(readFileSync(DEMO_FILE));
const bytes = (text: string) => new TextEncoder().encode(text);

describe('the table of the findings worker', () => {
  it('computes what the core computes, laid either way, and writes the same text', () => {
    const table = createFindingsTable();
    expect(table.open(demo(), 'demo.survey.json').survey?.site.name).toBe('Brackamore Slade');
    for (const drape of ['midpoint', 'probes'] as const) {
      const { findings, layers } = demoContent(drape);
      expect(table.compute(drape)).toEqual({ findings, layers });
      for (const name of LAYER_NAMES) expect(table.layerText(name, drape)).toBe(geojsonText(layers[name]));
    }
  });

  it('keeps the survey that is open when the next document is none', () => {
    const table = createFindingsTable();
    table.open(demo(), 'demo.survey.json');
    const { survey, notes } = table.open(bytes('{"format":"else"}'), 'else.json');
    expect(survey).toBeNull();
    expect(notes.some(({ kind }) => kind === 'fault')).toBe(true);
    expect(table.compute('midpoint').findings.lines).toHaveLength(9);
  });

  it('forgets what it computed when another survey is opened', () => {
    const table = createFindingsTable();
    table.open(demo(), 'demo.survey.json');
    table.compute('midpoint');
    const fewer = JSON.parse(new TextDecoder().decode(demo())) as { readings: unknown[] };
    fewer.readings = fewer.readings.slice(0, 100);
    table.open(bytes(JSON.stringify(fewer)), 'fewer.survey.json');
    const { lines } = table.compute('midpoint').findings;
    expect(lines.reduce((sum, line) => sum + line.readingCount, 0)).toBe(100);
  });

  it('has nothing to compute before a survey is open', () => {
    expect(() => createFindingsTable().compute('midpoint')).toThrow('No survey is open.');
  });
});
