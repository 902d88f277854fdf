import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { geojsonText } from '../../src/exchange/write/geojson';
import { LAYER_NAMES } from '../../src/exchange/write/layer-collection';
import { commit } from '../../src/survey/commit';
import { correctReading } from '../../src/survey/edits';
import { createFindingsTable } from '../../src/workers/findings-table';
import { type Computed, createReceiver, createSender } from '../../src/workers/parts';
import { DEMO_FILE, demoContent } from '../app/demo-content';

const demo = () => new Uint8Array(readFileSync(DEMO_FILE));
const bytes = (text: string) => new TextEncoder().encode(text);

/** What the page makes of the parts when it gets them for the first time. */
const whole = (parts: Parameters<ReturnType<typeof createSender>>[0]): Computed =>
  createReceiver()(createSender()(parts));

describe('the table of the findings worker', () => {
  it('computes what the core computes, laid either way, and writes the same text', () => {
    const table = createFindingsTable();
    expect(table.open(demo(), 'demo.survey.json').survey?.site.name).toBe('Brackamore Slade');
    for (const drape of ['midpoint', 'probes'] as const) {
      const { findings, layers } = demoContent(drape);
      expect(whole(table.compute(drape))).toEqual({ findings, layers });
      for (const name of LAYER_NAMES) expect(table.layerText(name, drape)).toBe(geojsonText(layers[name]));
    }
  });

  it('keeps the survey that is open when the next document is none', () => {
    const table = createFindingsTable();
    table.open(demo(), 'demo.survey.json');
    const { survey, notes } = table.open(bytes('{"format":"else"}'), 'else.json');
    expect(survey).toBeNull();
    expect(notes.some(({ kind }) => kind === 'fault')).toBe(true);
    expect(table.compute('midpoint').lines).toHaveLength(9);
  });

  it('forgets what it computed when another survey is opened', () => {
    const table = createFindingsTable();
    table.open(demo(), 'demo.survey.json');
    table.compute('midpoint');
    const fewer = JSON.parse(new TextDecoder().decode(demo())) as { readings: unknown[] };
    fewer.readings = fewer.readings.slice(0, 100);
    table.open(bytes(JSON.stringify(fewer)), 'fewer.survey.json');
    const { lines } = table.compute('midpoint');
    expect(lines.reduce((sum, { line }) => sum + line.readingCount, 0)).toBe(100);
  });

  it('has nothing to compute before a survey is open', () => {
    expect(() => createFindingsTable().compute('midpoint')).toThrow('No survey is open.');
  });

  it('sends only the line that an edit touched, and the page has the whole again', () => {
    const table = createFindingsTable();
    const { survey } = table.open(demo(), 'demo.survey.json');
    const [send, receive] = [createSender(), createReceiver()];
    receive(send(table.compute('midpoint')));
    const reading = survey?.readings.find((each) => survey.lines.find(({ id }) => id === each.line)?.name === 'D');
    if (!survey || !reading) throw new Error('the demo has no line D');
    const change = correctReading(survey, reading.id, { value: 1234 }, { by: 'Ada', at: '2026-05-12T10:00:00Z' });
    if (!change.ok) throw new Error(change.sentence);
    const sent = send(table.change(change.value, 'midpoint'));
    expect(sent.changed.map(({ line }) => line.name)).toEqual(['D']);
    const fresh = createFindingsTable();
    expect(receive(structuredClone(sent))).toEqual(whole(fresh.take(commit(survey, change.value).survey, 'midpoint')));
  });
});
