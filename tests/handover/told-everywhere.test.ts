import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import type { Audience } from '../../src/discretion/audience';
import { disclose } from '../../src/discretion/disclose';
import { type PackFile, packFiles } from '../../src/handover/pack';
import { geodesicDistanceM } from '../../src/position/geodesic';
import { COLLECTIONS } from '../../src/survey/commit';
import { makeId } from '../../src/survey/ids';
import type { Survey } from '../../src/survey/survey';
import { SECRET, settledShare } from '../discretion/made-share';
import { sql } from './sql';
import { CLOCK, PEOPLE, RADIUS_M, TRUTH, toldSite } from './told-site';

/** The told site, with every doubt settled. */
function toldSurvey(): Survey {
  const survey = toldSite();
  return {
    ...survey,
    settlements: appraise(survey).doubts.map(({ id }) => ({
      id: makeId('settlement', survey.id, id),
      revised: { at: null, by: null, count: 0 },
      doubt: id,
      decision: 'explained',
      why: 'looked at',
    })),
  };
}
const survey = toldSurvey();

interface Packed {
  readonly files: readonly PackFile[];
  readonly shown: Survey;
}
async function packOf(audience: Audience): Promise<Packed> {
  const { disclosed } = settledShare(survey, audience, 'withhold');
  const terms = { madeAt: '2026-06-01', contact: 'Office of Works', licence: null, title: null };
  const files = await packFiles(disclosed, terms, { sql });
  if (!files.ok) throw new Error(files.sentence);
  return { files: files.value, shown: disclosed.survey };
}
const textOf = ({ bytes }: PackFile): string => Buffer.from(bytes).toString('utf8').toLowerCase();

/** Which files hold a text, whatever its case. */
const holding = (files: readonly PackFile[], words: readonly string[]): string[] =>
  files.flatMap((file) => {
    const text = textOf(file);
    return words.filter((word) => text.includes(word.toLowerCase())).map((word) => `${file.name}: ${word}`);
  });

/** Pairs of numbers in either order that lie within the radius: written ones, and doubles of either byte order. */
function placesNear({ bytes }: PackFile): string[] {
  const near: string[] = [];
  const ask = (p: number, q: number): void => {
    for (const [lon, lat] of [
      [p, q],
      [q, p],
    ] as const) {
      if (Math.abs(lat - TRUTH.lat) > 0.01 || Math.abs(lon - TRUTH.lon) > 0.01) continue;
      if (geodesicDistanceM({ lon, lat }, TRUTH) <= RADIUS_M) near.push(`${p} ${q}`);
    }
  };
  const numbers = (
    Buffer.from(bytes)
      .toString('latin1')
      .match(/-?\d+\.\d+/g) ?? []
  ).map(Number);
  for (let i = 1; i < numbers.length; i += 1) ask(numbers[i - 1] as number, numbers[i] as number);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  // The first eight bytes of a gpkg name it: anything else here is text.
  if (Buffer.from(bytes.subarray(0, 6)).toString() !== 'SQLite') return near;
  for (let i = 0; i + 16 <= bytes.length; i += 1)
    for (const little of [true, false]) ask(view.getFloat64(i, little), view.getFloat64(i + 8, little));
  return near;
}

describe.each(['keeper', 'planner', 'public'] as const)(
  'a pack for %s of a survey that tells everywhere',
  (audience) => {
    const pack = packOf(audience);

    it('has the name, the number and the coordinates in none of its files', async () => {
      const { files } = await pack;
      const told = ['bluewhist', 'blue whist', 'blue-whist', 'bluewist', 'q881', '17.23', 'entrance_at', 'entrance_is'];
      expect(holding(files, [...told, TRUTH.lat.toFixed(4), TRUTH.lon.toFixed(4), '47,7654', '10,1235'])).toEqual([]);
      expect(files.flatMap((file) => placesNear(file).map((place) => `${file.name}: ${place}`))).toEqual([]);
    });

    it('names nothing by its id that it does not hold', async () => {
      const { files, shown } = await pack;
      const held = new Set<string>(COLLECTIONS.flatMap((name) => shown[name].map(({ id }) => id)));
      const gone = COLLECTIONS.flatMap((name) => survey[name].map(({ id }): string => id)).filter(
        (id) => !held.has(id),
      );
      expect(gone.length).toBeGreaterThan(30);
      expect(holding(files, gone)).toEqual([]);
    });

    it('has no id that could be drawn again from a name that was taken out', async () => {
      const { files } = await pack;
      const line = makeId('line', 'test', `${SECRET} west`);
      const outing = makeId('outing', 'test', `${PEOPLE[0]} at ${SECRET}`);
      const paths = [0, 1].map((i) => makeId('path', 'test', `${SECRET} west/${i}`));
      expect(holding(files, [line, outing, ...paths])).toEqual([]);
    });

    it('numbers its zones without a gap, in names and in paragraphs', async () => {
      const { files } = await pack;
      const page = textOf(files.find(({ name }) => name === 'page.html') as PackFile);
      const numbers = [...new Set([...page.matchAll(/zone (\d+)\b/g)].map(([, n]) => Number(n)))].sort((p, q) => p - q);
      expect(numbers.length).toBeGreaterThan(2);
      expect(numbers).toEqual(numbers.map((_, i) => i + 1));
    });

    it('tells outsiders no people and no time of day', async () => {
      const { files } = await pack;
      const told = holding(files, [...PEOPLE, CLOCK]);
      if (audience === 'keeper') expect(told).not.toEqual([]);
      else expect(told).toEqual([]);
    });
  },
);

describe('the surveyor’s own pack', () => {
  it('holds all of that: what looks for it finds it', async () => {
    const terms = { madeAt: '2026-06-01', contact: null, licence: null, title: null };
    const files = await packFiles(disclose(survey, appraise(survey), 'surveyor'), terms, { sql });
    if (!files.ok) throw new Error(files.sentence);
    const named = holding(files.value, ['bluewhist', 'entrance_at', makeId('line', 'test', `${SECRET} west`)]);
    expect(named).toEqual(expect.arrayContaining(['layers.gpkg: bluewhist', 'survey.survey.json: entrance_at']));
    const near = new Set(files.value.filter((file) => placesNear(file).length > 0).map(({ name }) => name));
    expect([...near]).toEqual(expect.arrayContaining(['layers.gpkg', 'layers/lines.geojson', 'layers.kml']));
  });
});

describe('what a keeper still gets', () => {
  it('hangs together: readings, references and settled doubts name what is there', async () => {
    const { shown } = await packOf('keeper');
    const lines = new Set<string>(shown.lines.map(({ id }) => id));
    const outings = new Set<string | null | undefined>(shown.outings.map(({ id }) => id));
    expect(shown.readings.length).toBeGreaterThan(50);
    expect(shown.readings.filter(({ line, outing }) => !lines.has(line) || !outings.has(outing))).toEqual([]);
    expect(shown.references.flatMap(({ stations }) => stations).filter(({ line }) => !lines.has(line))).toEqual([]);
    const doubts = new Set(appraise(shown).doubts.map(({ id }) => id));
    expect(shown.settlements.length).toBeGreaterThan(3);
    // A line that was measured from one that is left out has no place in this record.
    const unplaced = shown.lines.filter(({ path }) => path.length === 0).map(({ id }) => id);
    expect(unplaced.length).toBe(1);
    const lost = shown.settlements.filter(({ doubt }) => !doubts.has(doubt) && !doubt.includes(unplaced[0] ?? ''));
    expect(lost).toEqual([]);
  });
});
