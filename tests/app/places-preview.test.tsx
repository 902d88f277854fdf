import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { PlacesPreview } from '../../src/app/screens/import/PlacesPreview';
import { placeFrom, placeText, typedPlace, withCount, withName } from '../../src/app/screens/import/place-text';
import { readTablesAndPlaces } from '../../src/exchange/read/tables';

describe('a place of a line as a person types it', () => {
  it.each([
    ['e24', { electrode: 24 }],
    ['Electrode 24', { electrode: 24 }],
    ['12.5 m', { chainage_m: 12.5 }],
    ['12,5', { chainage_m: 12.5 }],
    ['-3', { chainage_m: -3 }],
    ['start', { at: 'start' }],
    ['End', { at: 'end' }],
    ['remote b', { remote: 'B' }],
    ['N', { remote: 'N' }],
  ])('%s', (text, place) => {
    expect(placeFrom(text)).toEqual(place);
  });

  it.each(['', 'e0', 'somewhere', '1.2.3', 'remote', 'remote C'])('is not "%s"', (text) => {
    expect(placeFrom(text)).toBeNull();
  });

  it('is shown as it can be typed again', () => {
    const places = [
      { kind: 'electrode', electrode: 7 },
      { kind: 'chainage', chainageM: -2.5 },
      { kind: 'start' },
      { kind: 'end' },
      { kind: 'remote', role: 'A' },
    ] as const;
    expect(places.map((at) => placeFrom(placeText(at)))).toEqual([
      { electrode: 7 },
      { chainage_m: -2.5 },
      { at: 'start' },
      { at: 'end' },
      { remote: 'A' },
    ]);
    expect(placeText(null)).toBe('');
  });

  it('counts once its line is there too; both blank leave it out', () => {
    expect(typedPlace('point', ' L1 ', 'e3')).toEqual({ line: 'L1', electrode: 3 });
    expect(typedPlace('point', '', 'B')).toEqual({ remote: 'B' });
    expect(typedPlace('point', '', '')).toBeNull();
    expect(typedPlace('point', '', 'e3')).toBeUndefined();
    expect(typedPlace('point', 'L1', '')).toBeUndefined();
    expect(typedPlace('track', 'L1', '')).toEqual({ line: 'L1' });
    expect(typedPlace('track', '', '')).toBeNull();
  });

  it('goes into the map beside what was said before', () => {
    const one = withName({ step_m: 5 }, 'P', { line: 'L1', electrode: 3 });
    expect(withName(one, 'Q', null)).toEqual({ step_m: 5, names: { P: { line: 'L1', electrode: 3 }, Q: null } });
    expect(withCount(one, 'step_m', '2,5')).toMatchObject({ step_m: 2.5 });
    expect(withCount({}, 'electrodes', '48')).toEqual({ electrodes: 48 });
    for (const text of ['', '0', 'x', '-1']) expect(withCount({ step_m: 5 }, 'step_m', text)).toEqual({});
    expect(withCount({}, 'electrodes', '2.5')).toEqual({});
  });
});

describe('a file of places in the preview', () => {
  const text =
    '<gpx><wpt lat="1" lon="2"><name>L1 e1</name></wpt><wpt lat="1.001" lon="2"><name>L1 e9</name></wpt><wpt lat="1" lon="2"><name>Spring</name></wpt></gpx>';
  const file = { name: 'a.gpx', bytes: new TextEncoder().encode(text) };
  const { places, notes } = readTablesAndPlaces([file], { seed: 'test' });
  const [understood] = places;
  if (!understood) throw new Error('no places');
  const nothing = () => undefined;
  const html = renderToStaticMarkup(
    <PlacesPreview
      understood={understood}
      map={{ step_m: 5 }}
      notes={notes}
      onCorrect={nothing}
      onAsTable={nothing}
      onLeaveOut={nothing}
    />,
  );
  const words = html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

  it('says how much is in it and how much was matched', () => {
    expect(words).toContain('GPX with 0 lines and 3 points; 2 of the points name a place of a line.');
  });

  it('has for every name its line and its place to be corrected', () => {
    expect(html).toMatch(/aria-label="Line of L1 e9"[^>]*value="L1"/);
    expect(html).toMatch(/aria-label="Place of L1 e9 on its line"[^>]*value="e9"/);
    expect(html).toMatch(/aria-label="Line of Spring"[^>]*value=""/);
  });

  it('shows where the points fall', () => {
    expect(html.match(/<circle/g)).toHaveLength(3);
  });
});
