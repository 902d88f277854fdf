import { createHash } from 'node:crypto';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { AUDIENCES, type Audience } from '../../src/discretion/audience';
import { disclose } from '../../src/discretion/disclose';
import { discloseTo } from '../../src/discretion/disclose-to';
import { readPack } from '../../src/exchange/read/pack';
import { DICTIONARY_LAYERS, LAYER_PROPERTIES } from '../../src/exchange/write/dictionary';
import { PACK_FORMAT } from '../../src/handover/metadata';
import { type PackFile, packed, packFiles, zipped } from '../../src/handover/pack';
import { demoContent } from '../app/demo-content';
import { feature } from '../discretion/made-share';
import { openFile } from '../helpers/gdal-files';
import { sql } from './sql';

const TERMS = { madeAt: '2026-11-25', contact: 'Office of Works', licence: 'CC BY 4.0', title: null };

/** The demo with karst features of every shape and a rule, so that no layer is empty. */
const demo = demoContent();
const at = (east: number, north: number) => ({
  x: -91.9138 + east / 88_000,
  y: 37.4085 + north / 111_000,
  crs: 'EPSG:4326',
});
const ring = [at(0, 0), at(20, 0), at(20, 20), at(0, 20), at(0, 0)];
const survey = {
  ...demo.survey,
  site: {
    ...demo.survey.site,
    setback_rules: [{ type: 'any', distance_m: 30, from: 'edge', with_uncertainty: true, cites: 'invented' }],
  },
  features: [
    feature('point', -91.914, 37.409, { name: 'Sink', depth_m: 3, water: 'none' }),
    feature('line', 0, 0, { type: 'dry_valley', shape: 'line', positions: [at(0, 50), at(60, 70)] }),
    feature('area', 0, 0, { shape: 'area', positions: ring, length_m: 20, width_m: 20, long_axis_deg: 90 }),
  ],
};
const findings = appraise(survey);

function disclosedTo(audience: Audience) {
  if (audience === 'surveyor') return disclose(survey, findings, audience);
  const outcome = discloseTo(survey, findings, audience, { settled: [], earlier: [] });
  if (!outcome.ok || outcome.value.kind !== 'disclosed') throw new Error('the demo hides nothing');
  return outcome.value.disclosed;
}

async function filesFor(audience: Audience): Promise<readonly PackFile[]> {
  const files = await packFiles(disclosedTo(audience), TERMS, { sql });
  if (!files.ok) throw new Error(files.sentence);
  return files.value;
}

const packs = new Map(await Promise.all(AUDIENCES.map(async (each) => [each, await filesFor(each)] as const)));
const filesOf = (audience: Audience) => packs.get(audience) as readonly PackFile[];
const bytesOf = (audience: Audience, name: string): Uint8Array => {
  const file = filesOf(audience).find((each) => each.name === name);
  if (!file) throw new Error(`no ${name} for ${audience}`);
  return file.bytes;
};
const textOf = (audience: Audience, name: string) =>
  new TextDecoder('utf-8', { fatal: true }).decode(bytesOf(audience, name));
const jsonOf = (audience: Audience, name: string) => JSON.parse(textOf(audience, name));
const layersOf = (audience: Audience) =>
  filesOf(audience).flatMap(({ name }) => /^layers\/(\w+)\.geojson$/.exec(name)?.[1] ?? []);

describe('a pack', () => {
  it('holds what its audience needs', () => {
    const names = (audience: Audience) => filesOf(audience).map(({ name }) => name);
    const always = [
      'page.html',
      'report.html',
      'layers.gpkg',
      'dictionary.csv',
      'dictionary.json',
      'metadata.json',
      'README.txt',
      'SHA256SUMS',
    ];
    for (const audience of AUDIENCES) expect(names(audience)).toEqual(expect.arrayContaining(always));
    const work = [
      'layers.kml',
      'stakes.gpx',
      'tables/readings.csv',
      'styles/segments.sld',
      'styles/zones.sld',
      'survey.survey.json',
    ];
    for (const audience of ['surveyor', 'keeper'] as const)
      expect(names(audience)).toEqual(expect.arrayContaining(work));
    for (const audience of ['planner', 'public'] as const)
      expect(names(audience).filter((name) => work.includes(name))).toEqual([]);
  });

  it('is the same bytes every time, file by file or as a whole', async () => {
    const again = await packed(disclosedTo('surveyor'), TERMS, { sql });
    if (!again.ok) throw new Error(again.sentence);
    const whole = zipped(filesOf('surveyor'));
    expect(Buffer.compare(again.value.zip, whole)).toBe(0);
    expect(Buffer.compare(zipped([...filesOf('surveyor')].reverse()), whole)).toBe(0);
  });

  it('is a zip for two other implementations', async () => {
    const files = filesOf('planner');
    const unzipped = unzipSync(zipped(files));
    expect(Object.keys(unzipped)).toEqual(files.map(({ name }) => name).sort());
    for (const { name, bytes } of files) expect(Buffer.compare(unzipped[name] as Uint8Array, bytes)).toBe(0);
    const one = zipped([{ name: 'lines.geojson', bytes: bytesOf('planner', 'layers/lines.geojson') }]);
    const { info } = await openFile('lines.zip', one, ['vsizip']);
    expect(info.layers[0]?.featureCount).toBe(9);
  });

  it('names the SHA-256 of every file, as node:crypto computes it', async () => {
    const { createHash } = await import('node:crypto');
    const lines = textOf('surveyor', 'SHA256SUMS').trimEnd().split('\n');
    const expected = filesOf('surveyor')
      .filter(({ name }) => name !== 'SHA256SUMS')
      .map(({ name, bytes }) => `${createHash('sha256').update(bytes).digest('hex')}  ${name}`);
    expect(lines).toEqual(expected.sort((p, q) => (p.slice(66) < q.slice(66) ? -1 : 1)));
  });

  it('refuses a time that is none', async () => {
    for (const madeAt of ['yesterday', '2026-13-45', '2026-02-31', '2026-02-30T12:00:00Z', '']) {
      expect(await packFiles(disclosedTo('public'), { ...TERMS, madeAt }, { sql })).toMatchObject({
        ok: false,
        code: 'bad_time',
      });
    }
  });

  it('says in metadata and README whom to ask, under which terms, how sure, and what not to conclude', () => {
    for (const audience of AUDIENCES) {
      const metadata = jsonOf(audience, 'metadata.json');
      expect(metadata).toMatchObject({
        format: PACK_FORMAT,
        point_of_contact: 'Office of Works',
        legal_constraints: 'CC BY 4.0',
        metadata_date: '2026-11-25',
      });
      expect(metadata.positional_accuracy.statement).toMatch(/^Computed, not tested/);
      for (const name of ['README.txt', 'metadata.json'])
        expect(textOf(audience, name)).toMatch(/neither prove nor rule out a void/);
    }
  });

  it('says in the README where the survey’s own keys are explained, to those who get the survey', () => {
    for (const audience of AUDIENCES) {
      const isThere = filesOf(audience).some(({ name }) => name === 'survey.survey.json');
      expect(textOf(audience, 'README.txt').includes('“hollowline schema”')).toBe(isThere);
    }
  });

  it('gives outsiders no two-probe reading that is graded', () => {
    for (const audience of ['planner', 'public'] as const) {
      const graded = jsonOf(audience, 'layers/segments.geojson').features.filter(
        ({ properties }: { properties: Record<string, unknown> }) =>
          properties.figure_kind === 'two_probe' && properties.grade !== null,
      );
      expect(graded).toEqual([]);
    }
  });
});

describe('the dictionary', () => {
  it('has every property of every layer for every audience, in order, and nothing else', () => {
    for (const audience of AUDIENCES) {
      for (const layer of layersOf(audience)) {
        const named = LAYER_PROPERTIES[layer as keyof typeof LAYER_PROPERTIES].map(({ name }) => name);
        for (const { properties } of jsonOf(audience, `layers/${layer}.geojson`).features)
          expect(Object.keys(properties)).toEqual(named);
      }
    }
  });

  it('lists no layer that never comes', () => {
    expect(layersOf('surveyor')).toEqual([...DICTIONARY_LAYERS]);
  });

  it('keeps its word on types, codes and null', () => {
    for (const audience of AUDIENCES) {
      for (const layer of layersOf(audience)) {
        const wrong = new Set<string>();
        for (const { properties } of jsonOf(audience, `layers/${layer}.geojson`).features) {
          for (const { name, type, allowed, nullMeans } of LAYER_PROPERTIES[layer as keyof typeof LAYER_PROPERTIES]) {
            const value = properties[name];
            if (value === null) {
              if (nullMeans === null) wrong.add(`${layer}.${name} is null`);
            } else if (typeof value !== (type === 'text' ? 'string' : 'number'))
              wrong.add(`${layer}.${name} is ${typeof value}`);
            else if (type === 'integer' && !Number.isInteger(value)) wrong.add(`${layer}.${name} is ${value}`);
            else if (
              allowed &&
              value !== '' &&
              !String(value)
                .split(';')
                .every((code) => allowed.includes(code))
            )
              wrong.add(`${layer}.${name} says ${value}`);
          }
        }
        expect([...wrong]).toEqual([]);
      }
    }
  });

  it('explains the tables that a pack holds, and no others', () => {
    for (const audience of AUDIENCES) {
      const held = filesOf(audience).flatMap(({ name }) => /^tables\/(.+)$/.exec(name)?.[1] ?? []);
      const { tables = [] } = jsonOf(audience, 'dictionary.json');
      expect(tables.map(({ name }: { name: string }) => name)).toEqual(held);
    }
    expect(jsonOf('keeper', 'dictionary.json').tables).not.toEqual([]);
  });

  it('is the same as a table and as JSON', () => {
    const rows = textOf('surveyor', 'dictionary.csv').trimEnd().split('\n').length - 1;
    const { layers, tables } = jsonOf('surveyor', 'dictionary.json');
    const named = [
      ...layers.flatMap(({ properties }: { properties: unknown[] }) => properties),
      ...tables.flatMap(({ columns }: { columns: unknown[] }) => columns),
    ];
    expect(rows).toBe(named.length);
  });
});

describe('GDAL', () => {
  it('reads the GeoPackage of every audience as it reads the GeoJSON: counts, types, extents, values', async () => {
    for (const audience of AUDIENCES) {
      const file = await openFile('layers.gpkg', bytesOf(audience, 'layers.gpkg'));
      expect(file.info.layers.map(({ name }) => name)).toEqual(layersOf(audience));
      for (const layer of file.info.layers) {
        const json = jsonOf(audience, `layers/${layer.name}.geojson`);
        expect(layer.featureCount).toBe(json.features.length);
        expect(layer.geometryFields?.[0]?.type).toBe(json.features[0].geometry.type);
        expect(layer.geometryFields?.[0]?.extent).toEqual(json.bbox);
        const types = { text: 'String', integer: 'Integer64', real: 'Real' } as const;
        expect(layer.fields.map(({ type }) => type)).toEqual(
          LAYER_PROPERTIES[layer.name as keyof typeof LAYER_PROPERTIES].map(({ type }) => types[type]),
        );
      }
    }
  }, 60_000);

  it('finds the same values and places in the GeoPackage', async () => {
    const file = await openFile('layers.gpkg', bytesOf('surveyor', 'layers.gpkg'));
    for (const name of ['segments', 'zones', 'feature_areas', 'setbacks']) {
      const ours = jsonOf('surveyor', `layers/${name}.geojson`);
      const theirs = await file.layer(name);
      for (const [i, each] of theirs.features.entries()) {
        expect(each.geometry).toEqual(ours.features[i].geometry);
        expect(Object.values(each.properties ?? {})).toEqual(Object.values(ours.features[i].properties));
      }
    }
  });

  it('reads KML and GPX: same counts, with heights', async () => {
    const kml = await openFile('layers.kml', bytesOf('surveyor', 'layers.kml'));
    const drawn = layersOf('surveyor').filter((name) => name !== 'midpoints');
    expect(kml.info.layers.map(({ name }) => name)).toEqual(drawn);
    for (const layer of kml.info.layers)
      expect(layer.featureCount).toBe(jsonOf('surveyor', `layers/${layer.name}.geojson`).features.length);
    const gpx = await openFile('stakes.gpx', bytesOf('surveyor', 'stakes.gpx'));
    const electrodes = jsonOf('surveyor', 'layers/electrodes.geojson').features;
    const next = jsonOf('surveyor', 'layers/next_readings.geojson').features;
    expect(gpx.info.layers[0]?.featureCount).toBe(electrodes.length + next.length);
    const points = await gpx.layer('waypoints');
    expect(points.features.slice(0, 50).map(({ properties }) => properties?.ele ?? null)).toEqual(
      electrodes.slice(0, 50).map(({ properties }: { properties: Record<string, unknown> }) => properties.elevation_m),
    );
  });

  it('makes statements for PostGIS of the GeoPackage', async () => {
    const file = await openFile('layers.gpkg', bytesOf('planner', 'layers.gpkg'));
    const dump = await file.converted(['-f', 'PGDump', '-nlt', 'PROMOTE_TO_MULTI'], 'dump');
    expect(dump).toContain(`AddGeometryColumn('public','segments','geom',4326,'MULTILINESTRING',2)`);
    expect(dump.match(/INSERT INTO "public"."midpoints"|COPY "public"."midpoints"/)).not.toBeNull();
  });
});

describe('a pack read back', () => {
  it('of the surveyor gives the same survey and the same findings', () => {
    const read = readPack(zipped(filesOf('surveyor')), 'pack.zip');
    expect(read.notes).toEqual([]);
    expect(read.survey).toEqual(JSON.parse(JSON.stringify(survey)));
    expect(read.survey && appraise(read.survey)).toEqual(findings);
  });

  it('of a planner gives lines and features in their places, and says what cannot be had', () => {
    const { survey: got, notes } = readPack(zipped(filesOf('planner')), 'pack.zip');
    expect(got?.lines.map(({ id, name }) => [id, name])).toEqual(survey.lines.map(({ id, name }) => [id, name]));
    expect(got?.features.map(({ id, shape }) => [id, shape])).toEqual(
      survey.features.map(({ id, shape }) => [id, shape]),
    );
    expect(got?.readings).toEqual([]);
    expect(notes.map(({ column }) => column)).toEqual(['midpoints', 'zones', 'setbacks']);
    const lines = got ? appraise(got).lines : [];
    for (const [i, line] of lines.entries()) expect(line.lengthM).toBeCloseTo(findings.lines[i]?.lengthM ?? 0, 0);
  });

  it('is refused when a file in it was changed, or when it is no pack', () => {
    const changed = filesOf('surveyor').map((file) =>
      file.name === 'survey.survey.json'
        ? { ...file, bytes: new TextEncoder().encode(textOf('surveyor', file.name).replace('"ohm', '"ohn')) }
        : file,
    );
    expect(readPack(zipped(changed), 'pack.zip').notes).toMatchObject([{ kind: 'fault', read: 'survey.survey.json' }]);
    expect(readPack(zipped([{ name: 'a.txt', bytes: new Uint8Array(3) }]), 'a.zip')).toMatchObject({
      survey: null,
      notes: [{ kind: 'fault' }],
    });
    expect(readPack(new Uint8Array([0x50, 0x4b, 3, 4]), 'a.zip')).toMatchObject({
      survey: null,
      notes: [{ kind: 'fault' }],
    });
  });

  it('is refused when a layer has a row without a place, though its digest is right', () => {
    const row = { type: 'Feature', properties: { sid: 'x' }, geometry: { type: 'Point' } };
    const layer = new TextEncoder().encode(JSON.stringify({ type: 'FeatureCollection', features: [row] }));
    const metadata = filesOf('planner').find(({ name }) => name === 'metadata.json') as PackFile;
    const files = [metadata, { name: 'layers/controls.geojson', bytes: layer }];
    const sums = files
      .map(({ name, bytes }) => `${createHash('sha256').update(bytes).digest('hex')}  ${name}\n`)
      .join('');
    const whole = zipped([...files, { name: 'SHA256SUMS', bytes: new TextEncoder().encode(sums) }]);
    expect(readPack(whole, 'pack.zip')).toMatchObject({ survey: null, notes: [{ kind: 'fault', read: 'bad_layer' }] });
  });
});
