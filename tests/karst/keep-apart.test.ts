import { describe, expect, it } from 'vitest';
import { withKnownKeys } from '../../src/discretion/known-keys';
import type { PlacedThing } from '../../src/evidence/doubts/doubt-context';
import { thingsNear } from '../../src/evidence/things-near';
import { keepApart } from '../../src/karst/keep-apart';
import { likelyDuplicates } from '../../src/karst/match';
import { placeFeatures } from '../../src/karst/placed';
import { geodesicDestination } from '../../src/position/geodesic';
import { placeLine } from '../../src/position/place-line';
import { commit } from '../../src/survey/commit';
import type { Survey } from '../../src/survey/survey';
import { readSurveyDocument } from '../../src/survey/versions';
import { createKarstTable } from '../../src/workers/karst-table';
import { emptySurvey, madeLine } from '../helpers/made-survey';
import { madeFeature } from './made-features';

const ada = { by: 'Ada', at: '2026-05-01T10:00:00Z' };
const one = madeFeature('one', 10, 45, { name: 'Beech cave' });
const two = madeFeature('two', 10, 45.00001, { name: 'Beech Cave' });
const both: Survey = { ...emptySurvey(), features: [one, two] };
const pairsOf = ({ features }: Survey) => likelyDuplicates(placeFeatures(features, []).placed).pairs;

describe('two features that look alike', () => {
  it('are no pair any more once somebody said that they are two, and are one again by undo', () => {
    expect(pairsOf(both)).toHaveLength(1);
    const change = keepApart(both, two.id, one.id, ada);
    if (!change.ok) throw new Error(change.sentence);
    const { survey, undo } = commit(both, change.value);
    expect(pairsOf(survey)).toHaveLength(0);
    // Either of them says it alone, whichever is taken from another keeper.
    expect(pairsOf({ ...survey, features: [survey.features[0] as typeof one, two] })).toHaveLength(0);
    expect(pairsOf({ ...survey, features: [one, survey.features[1] as typeof one] })).toHaveLength(0);
    expect(commit(survey, undo).survey).toEqual(both);
    expect(keepApart(survey, one.id, two.id, ada)).toMatchObject({ code: 'apart_already' });
    expect(keepApart(survey, one.id, one.id, ada)).toMatchObject({ code: 'same_feature' });
  });
});

describe('what a record says of features and shares', () => {
  it('is known, so that a keeper’s share keeps it, and a record without it is read as before', () => {
    const said = {
      ...both,
      site: { ...both.site, shares: [{ audience: 'planner' }] },
      features: [
        { ...one, evidence: { verdict: 'made', depth_m: 3 }, status_reason: 'twice', distinct_from: [two.id] },
      ],
    };
    expect(readSurveyDocument(JSON.parse(JSON.stringify(said)))).toMatchObject({ ok: true });
    expect(readSurveyDocument(JSON.parse(JSON.stringify(both)))).toMatchObject({ ok: true });
    expect(withKnownKeys(said)).toEqual(said);
  });
});

describe('things of a country’s inventory', () => {
  // Distances by geodesics; 5 km is the longest line that the program places.
  const start = { lon: 179.99, lat: 60 };
  const line = madeLine('A', [
    { chainageM: 0, ...start, accuracyM: 1 },
    { chainageM: 100, ...geodesicDestination(start, 90, 100), accuracyM: 1 },
  ]);
  const placed = placeLine(line, [], { grids: [], baseOf: () => ({ ok: false, code: 'none', sentence: '' }) });
  if (!placed.ok) throw new Error(placed.sentence);
  const thing = (id: string, ...places: PlacedThing['places']): PlacedThing => ({
    id,
    kind: 'pipe',
    name: null,
    places,
  });

  it('are looked at where they could lie beside a line, also across the date line and between their corners', () => {
    const at = (bearingDeg: number, metres: number) => geodesicDestination(start, bearingDeg, metres);
    const near = [0, 45, 90, 180, 270].map((bearingDeg) => thing(`near ${bearingDeg}`, at(bearingDeg, 4990)));
    const crossing = thing('crossing', at(225, 50_000), at(45, 50_000));
    const far = [0, 90, 180, 270].map((bearingDeg) => thing(`far ${bearingDeg}`, at(bearingDeg, 30_000)));
    const found = thingsNear([...far, crossing, ...near], [placed.track]).map(({ id }) => id);
    expect(found).toEqual(['crossing', 'near 0', 'near 45', 'near 90', 'near 180', 'near 270']);
  });
});

describe('the worker’s table', () => {
  it('takes a GPX and says what is new', () => {
    const gpx = `<?xml version="1.0"?><gpx version="1.1" creator="made" xmlns="http://www.topografix.com/GPX/1/1">
      <wpt lat="47.5" lon="12.5"><name>Beech spring</name><type>spring</type></wpt>
      <wpt lat="47.6" lon="12.5"><name>Beech shaft</name><type>shaft</type></wpt></gpx>`;
    const table = createKarstTable();
    const looked = table.look('made.gpx', new TextEncoder().encode(gpx), both, null, () => undefined);
    expect(looked).toMatchObject({ ok: true, value: { features: 2, known: 0, leftOut: 0 } });
    const taken = table.take();
    expect(taken.ok && taken.value.features.map(({ type, name }) => [type, name])).toEqual([
      ['spring', 'Beech spring'],
      ['shaft', 'Beech shaft'],
    ]);
  });
});
