import { DOMParser } from '@xmldom/xmldom';
import { unzipSync } from 'fflate';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { readPack } from '../../src/exchange/read/pack';
import { packFiles, zipped } from '../../src/handover/pack';
import type { Line, Survey } from '../../src/survey/survey';
import { feature } from '../discretion/made-share';
import { openFile } from '../helpers/gdal-files';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../helpers/made-survey';
import { sql } from './sql';

const NAMES: Readonly<Record<string, string>> = {
  markup: '<img src=x onerror=alert(1)>"&\'</script><!--',
  formula: '=1+1',
  'a formula behind a space': ' =HYPERLINK("http://a.test")',
  'a formula over two lines': '@SUM(A1)\r\nb',
  'a tab': '\t=2',
  'right to left': '\u202egnp.exe\u2066\u200f',
  'ten thousand characters': 'long'.repeat(2500),
  emoji: '🕳️👩‍🔬',
  NUL: 'a\u0000b\u0001\u001b[31m',
  'half a surrogate pair': 'x\ud800y\udc00',
  'a closing of CDATA': ']]>]]&gt;',
  'a path': '../../etc/passwd',
};

/** A survey with the same name for everything that has one. */
function named(name: string): Survey {
  const line: Line = madeLine(name, [
    { chainageM: 0, lon: 10, lat: 47, elevationM: 400 },
    { chainageM: 40, lon: 10.0005, lat: 47, elevationM: 401 },
  ]);
  const base = emptySurvey('hostile');
  const outing = madeOuting(name, { people: [name], weather: name, date: '2026-05-12' });
  return {
    ...base,
    site: {
      ...base.site,
      name,
      notes: name,
      reviewer: name,
      setback_rules: [{ type: 'any', distance_m: 5, from: 'point', with_uncertainty: false, cites: name }],
    },
    outings: [outing],
    lines: [line],
    readings: [4, 8, 12, 16, 20, 24].map((m) =>
      madeReading(line, {
        outing: outing.id,
        midpoint_m: m,
        spacing_m: 2,
        value: m === 12 ? 900 : 300,
        hookup: 'wenner_alpha',
        note: name,
      }),
    ),
    references: [
      madeReference(
        [4, 8, 16, 20, 24].map((chainageM) => ({ line, chainageM })),
        { name },
      ),
    ],
    features: [
      feature('a', 10.0002, 47.0001, { name, note: name, source: name, external_id: name, type: name || 'shaft' }),
    ],
  };
}

/** What a text looks like in formats that have no place for parts of it. */
const shown = (name: string) =>
  name
    .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '\u00b7')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what is looked for
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, '\u00b7');

function strictXml(text: string) {
  const faults: string[] = [];
  const document = new DOMParser({ onError: (_level, message) => faults.push(message) }).parseFromString(
    text,
    'application/xml',
  );
  expect(faults).toEqual([]);
  return document;
}

describe.each(Object.entries(NAMES))('everything named with %s', (_what, name) => {
  it('goes through every format and back', async () => {
    const survey = named(name);
    const terms = { madeAt: '2026-11-25T12:00:00Z', contact: name, licence: name, title: name };
    const files = await packFiles(disclose(survey, appraise(survey), 'surveyor'), terms, { sql });
    if (!files.ok) throw new Error(files.sentence);
    const members = unzipSync(zipped(files.value));
    expect(Object.keys(members).filter((each) => !/^[\w./-]+$/.test(each) || each.includes('..'))).toEqual([]);
    const text = (file: string) => new TextDecoder('utf-8', { fatal: true }).decode(members[file]);

    for (const file of Object.keys(members).filter((each) => /json$/.test(each))) JSON.parse(text(file));
    const lines = JSON.parse(text('layers/lines.geojson'));
    expect(lines.features[0].properties.line).toBe(name);
    const points = JSON.parse(text('layers/feature_points.geojson'));
    expect(points.features[0].properties).toMatchObject({ name, note: name });

    const kml = strictXml(text('layers.kml'));
    const data = [...kml.getElementsByTagName('SimpleData')].filter((each) => each.getAttribute('name') === 'note');
    expect(data[0]?.textContent).toBe(shown(name));
    strictXml(text('stakes.gpx'));
    expect(
      (await openFile('stakes.gpx', members['stakes.gpx'] as Uint8Array)).info.layers[0]?.featureCount,
    ).toBeGreaterThan(0);

    const db = new sql.Database(members['layers.gpkg']);
    expect(db.exec('SELECT name, note FROM feature_points')[0]?.values[0]).toEqual([shown(name), shown(name)]);
    expect(db.exec('PRAGMA integrity_check')[0]?.values).toEqual([['ok']]);
    db.close();

    for (const file of ['tables/readings.csv', 'tables/positions.csv', 'dictionary.csv']) {
      const { data: rows } = Papa.parse<string[]>(text(file), { skipEmptyLines: true });
      expect(rows.flat().filter((cell) => /^\s*[=+@]|^\s*-(?![\d.]+$)/.test(cell))).toEqual([]);
    }
    for (const file of ['page.html', 'report.html']) expect(text(file)).not.toMatch(/<img src=x|onerror=alert\(1\)>"/);

    const read = readPack(zipped(files.value), 'pack.zip');
    expect(read.survey).toEqual(JSON.parse(JSON.stringify(survey)));
  });
});
