import { describe, expect, it } from 'vitest';
import { commit } from '../../src/survey/commit';
import { addPhoto, photosOf, retirePhoto } from '../../src/survey/photo-edits';
import { templateOf } from '../../src/survey/template';
import { readSurveyDocument } from '../../src/survey/versions';
import { emptySurvey, madeLine, madeOuting, madeReading } from '../helpers/made-survey';

const ME = { by: 'me', at: '2026-05-01T10:00:00Z' };
const line = madeLine(
  'L1',
  [
    { chainageM: 0, lon: -91.9, lat: 37.4 },
    { chainageM: 50, lon: -91.899, lat: 37.4 },
  ],
  { hookup: 'two_probe', layout: { from_m: 0, to_m: 50, step_m: 5 } },
);
const gone = { ...madeLine('L2', []), retired: true };
const reading = madeReading(line, { midpoint_m: 5, spacing_m: 2, value: 100 });
const survey = {
  ...emptySurvey('The field'),
  lines: [line, gone],
  readings: [reading],
  outings: [
    madeOuting('Second', {
      date: '2026-05-02',
      unit: 'kohm_m',
      rods: [{ length_m: 0.3, radius_m: 0.005 }],
      people: ['Anna'],
    }),
    madeOuting('First', { date: '2026-05-01', unit: 'ohm' }),
  ],
  references: [
    { id: 'r' as never, revised: line.revised, name: 'Quiet', stations: [{ line: line.id, chainage_m: 0 }] },
  ],
};

describe('a survey used as a template', () => {
  const made = templateOf(survey, { name: 'Another field', seed: 'x', withPlaces: false });

  it('gives a survey with the lines in use, the last set-up and no readings', () => {
    expect(readSurveyDocument(made).ok).toBe(true);
    expect(made.site.name).toBe('Another field');
    expect(made.lines).toMatchObject([{ name: 'L1', hookup: 'two_probe', layout: { step_m: 5 }, path: [] }]);
    expect(made.outings).toMatchObject([{ unit: 'kohm_m', people: [], rods: [{ length_m: 0.3 }] }]);
    expect([made.readings, made.references, made.features]).toEqual([[], [], []]);
  });

  it('is an invented site only where it takes invented places along', () => {
    const invented = { ...survey, site: { ...survey.site, invented: true } };
    const made = (withPlaces: boolean) => templateOf(invented, { name: 'Mine', seed: 'z', withPlaces }).site.invented;
    expect(made(true)).toBe(true);
    expect(made(false)).toBeUndefined();
  });

  it('shares no id with it', () => {
    const ids = new Set(JSON.stringify(survey).match(/[a-z]+-[0-9a-z]{16}/g));
    const again = templateOf(survey, { name: 'The field, again', seed: 'y', withPlaces: true });
    const own = [made, again].flatMap((each) => JSON.stringify(each).match(/[a-z]+-[0-9a-z]{16}/g) ?? []);
    expect(own.filter((id) => ids.has(id))).toEqual([]);
  });

  it('keeps the places of its lines where it is the same ground', () => {
    const again = templateOf(survey, { name: 'The field, again', seed: 'y', withPlaces: true });
    expect(again.lines[0]?.path).toMatchObject(line.path.map(({ id: _, ...said }) => said));
    expect(again.references).toMatchObject([{ name: 'Quiet', stations: [{ line: again.lines[0]?.id }] }]);
  });
});

describe('a photo', () => {
  const said = { sha256: 'ab'.repeat(32), subject: reading.id, mediaType: 'image/jpeg', bytes: 12 };
  it('is written down once for what it shows, taken out, and put back', () => {
    const added = addPhoto(survey, said, ME);
    if (!added.ok) throw new Error(added.sentence);
    const withPhoto = commit(survey, added.value).survey;
    expect(photosOf(withPhoto, reading.id)).toMatchObject([{ sha256: said.sha256, time: ME.at, bytes: 12 }]);
    expect(addPhoto(withPhoto, said, ME)).toMatchObject({ ok: false, code: 'same_photo' });
    const [photo] = withPhoto.photos;
    if (!photo) throw new Error('no photo');
    const out = retirePhoto(withPhoto, photo.id, ME);
    if (!out.ok) throw new Error(out.sentence);
    const without = commit(withPhoto, out.value).survey;
    expect(photosOf(without, reading.id)).toEqual([]);
    const back = addPhoto(without, said, ME);
    if (!back.ok) throw new Error(back.sentence);
    expect(photosOf(commit(without, back.value).survey, reading.id)).toMatchObject([
      { id: photo.id, revised: { count: 2 } },
    ]);
  });

  it('of nothing in the survey is refused', () => {
    expect(addPhoto(survey, { ...said, subject: 'reading-none' }, ME)).toMatchObject({ code: 'no_such_subject' });
  });
});
