import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { disclose } from '../../src/discretion/disclose';
import { geojsonText } from '../../src/exchange/write/geojson';
import { joinLayers, LAYER_NAMES } from '../../src/exchange/write/layer-collection';
import { buildLayers } from '../../src/exchange/write/layers';
import type { LineFindings } from '../../src/findings';
import { commit } from '../../src/survey/commit';
import { correctReading } from '../../src/survey/edits';
import { createFindingsTable } from '../../src/workers/findings-table';
import { createReceiver, createSender } from '../../src/workers/parts';
import { DEMO_FILE, demoContent } from '../app/demo-content';

const demo = () => new Uint8Array(readFileSync(DEMO_FILE));
const bytes = (text: string) => new TextEncoder().encode(text);

/** As parts travel: −0 arrives as 0. */
const posted = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;

describe('the table of the findings worker', () => {
  it('computes what the core computes, laid either way, and writes the same text', async () => {
    const table = createFindingsTable();
    expect(table.open(demo(), 'demo.survey.json').surveyId).toBe(table.survey().id);
    expect(table.survey().site.name).toBe('Brackamore Slade');
    for (const drape of ['midpoint', 'probes'] as const) {
      const { survey, findings } = demoContent(drape);
      expect(table.findings()).toEqual(findings);
      const disclosed = disclose(survey, findings, 'surveyor');
      for (const distance of ['far', 'near'] as const) {
        const drawn = buildLayers(disclosed, { drape, drawn: distance });
        expect(joinLayers(table.drawn(drape, distance).map(([, layers]) => layers))).toEqual(drawn);
      }
      const written = buildLayers(disclosed, { drape });
      for (const name of LAYER_NAMES)
        expect(await table.layerFile(name, drape).text()).toBe(geojsonText(written[name]));
    }
  });

  it('keeps the survey that is open when the next document is none', () => {
    const table = createFindingsTable();
    table.open(demo(), 'demo.survey.json');
    const { surveyId, notes } = table.open(bytes('{"format":"else"}'), 'else.json');
    expect(surveyId).toBeNull();
    expect(notes.some(({ kind }) => kind === 'fault')).toBe(true);
    expect(table.findings().lines).toHaveLength(9);
  });

  it('forgets what it computed when another survey is opened', () => {
    const table = createFindingsTable();
    table.open(demo(), 'demo.survey.json');
    table.findings();
    const fewer = JSON.parse(new TextDecoder().decode(demo())) as { readings: unknown[] };
    fewer.readings = fewer.readings.slice(0, 100);
    table.open(bytes(JSON.stringify(fewer)), 'fewer.survey.json');
    expect(table.findings().lines.reduce((sum, { readingCount }) => sum + readingCount, 0)).toBe(100);
  });

  it('has nothing to compute before a survey is open', () => {
    expect(() => createFindingsTable().findings()).toThrow('No survey is open.');
  });

  it('sends only the line that an edit touched, and the page has the whole again', () => {
    const table = createFindingsTable();
    table.open(demo(), 'demo.survey.json');
    const survey = table.survey();
    const [send, receive] = [createSender<LineFindings>(), createReceiver<LineFindings>()];
    const byLine = () => table.findings().lines.map((line) => [line.lineId, line] as const);
    receive(send(byLine()));
    const reading = survey.readings.find((each) => survey.lines.find(({ id }) => id === each.line)?.name === 'D');
    if (!reading) throw new Error('the demo has no line D');
    const change = correctReading(survey, reading.id, { value: 1234 }, { by: 'Ada', at: '2026-05-12T10:00:00Z' });
    if (!change.ok) throw new Error(change.sentence);
    table.change(change.value);
    const sent = send(byLine());
    expect((JSON.parse(sent.changed) as [string, LineFindings][]).map(([, { name }]) => name)).toEqual(['D']);
    const fresh = createFindingsTable();
    fresh.take(commit(survey, change.value).survey);
    expect(receive(sent)).toEqual(posted(fresh.findings().lines));
  });
});
