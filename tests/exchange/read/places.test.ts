import { describe, expect, it } from 'vitest';
import { utf8 } from './helpers';
import { placesOf } from './places-read';

const gpx = (body: string, head = 'xmlns="http://www.topografix.com/GPX/1/1" version="1.1"') =>
  placesOf('a.gpx', utf8(`<gpx ${head}>${body}</gpx>`));
const kml = (body: string) =>
  placesOf(
    'a.kml',
    utf8(`<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2">${body}</kml>`),
  );
const geojson = (value: unknown) => placesOf('a.geojson', utf8(JSON.stringify(value)));
const feature = (geometry: unknown, properties: object | null = {}) => ({ type: 'Feature', properties, geometry });

describe('a GPX file', () => {
  it('gives its waypoints with all that the receiver said of them', () => {
    const { places, notes } = gpx(
      '<wpt lat="47.5" lon="11.25"><ele>812.5</ele><time>2025-06-03T09:00:00Z</time><name>L1 e1</name><type>peg</type><fix>3d</fix><sat>9</sat><hdop>1.2</hdop><pdop>2.1</pdop><extensions><x><accuracy>4.5</accuracy></x></extensions></wpt>',
    );
    expect(notes).toEqual([]);
    expect(places?.points).toMatchObject([
      {
        name: 'L1 e1',
        type: 'peg',
        lonLat: { lon: 11.25, lat: 47.5 },
        position: {
          x: 11.25,
          y: 47.5,
          crs: 'EPSG:4326',
          source: 'gpx',
          elevation_m: 812.5,
          time: '2025-06-03T09:00:00Z',
          hdop: 1.2,
          pdop: 2.1,
          satellites: 9,
          fix: '3d',
          accuracy_m: 4.5,
        },
      },
    ]);
  });

  it('gives every segment of a track and every route as a line', () => {
    const point = (lat: number, name = 'trkpt') => `<${name} lat="${lat}" lon="11"/>`;
    const { places } = gpx(
      `<trk><name>T</name><trkseg>${point(1)}${point(2)}</trkseg><trkseg>${point(3)}${point(4)}${point(5)}</trkseg></trk><rte><name>R</name>${point(6, 'rtept')}${point(7, 'rtept')}</rte>`,
    );
    expect(places?.lines.map(({ name, kind, vertices }) => [name, kind, vertices.length])).toEqual([
      ['T part 1', 'track', 2],
      ['T part 2', 'track', 3],
      ['R', 'route', 2],
    ]);
  });

  it('is never read with a number that it does not have', () => {
    for (const lat of ['47,1', '95', '', ' ', 'NaN', 'Infinity', '0x10', '47.1N', '4 7']) {
      const { places, faults } = gpx(`<wpt lat="${lat}" lon="11"/>`);
      expect([lat, places?.points.length, faults.length]).toEqual([lat, 0, 1]);
    }
    expect(gpx('<wpt lat="47,1" lon="11"/>').faults[0]?.sentence).toContain('a point as its decimal sign');
    expect(gpx('<wpt lat="111" lon="47"/>').faults[0]?.sentence).toContain('probably swapped');
  });

  it('keeps a place whose height, accuracy or time is wrong, and says so', () => {
    const { places, notes, faults } = gpx(
      '<wpt lat="1" lon="2"><ele>high</ele><time>yesterday</time><hdop>-1</hdop></wpt>',
    );
    expect(faults).toEqual([]);
    expect(places?.points[0]?.position).toEqual({ x: 2, y: 1, crs: 'EPSG:4326', source: 'gpx' });
    expect(notes).toHaveLength(3);
  });

  it('tells the line of the file where something is wrong', () => {
    const { faults } = gpx('\n<wpt lat="1" lon="2"/>\n<wpt lat="x" lon="2"/>');
    expect(faults).toMatchObject([{ row: 3, column: 'lat', read: 'x' }]);
  });
});

describe('a KML file', () => {
  it('gives points and lines with their folders, values and plain descriptions', () => {
    const { places, notes } = kml(
      '<Document><Folder><name>Line 3</name><Placemark><name>e1</name><description><![CDATA[<b>by the</b> <script>x</script>wall]]></description><ExtendedData><Data name="depth"><value>0.2</value></Data></ExtendedData><Point><coordinates>11,47,800</coordinates></Point></Placemark></Folder><Placemark><name>P</name><LineString><coordinates>\n11,47 11.001,47.001\n</coordinates></LineString></Placemark></Document>',
    );
    expect(notes).toEqual([]);
    expect(places?.points).toMatchObject([
      {
        name: 'e1',
        folder: 'Line 3',
        remark: 'by the x wall',
        fields: { depth: '0.2' },
        position: { elevation_m: 800 },
      },
    ]);
    expect(places?.lines).toMatchObject([{ name: 'P', folder: null, kind: 'line', vertices: [{}, {}] }]);
  });

  it('reads the parts of a MultiGeometry, and times of a gx:Track by their order', () => {
    const { places } = kml(
      '<Placemark><name>M</name><MultiGeometry><Point><coordinates>1,2</coordinates></Point><LineString><coordinates>1,2 3,4</coordinates></LineString></MultiGeometry></Placemark><Placemark><name>T</name><gx:Track><when>2025-06-03T09:00:00Z</when><gx:coord>1 2 3</gx:coord><gx:coord>4 5 6</gx:coord><when>2025-06-03T09:01:00Z</when></gx:Track></Placemark>',
    );
    expect(places?.points.map(({ name }) => name)).toEqual(['M']);
    expect(places?.lines.map(({ name, kind }) => [name, kind])).toEqual([
      ['M', 'line'],
      ['T', 'track'],
    ]);
    expect(places?.lines[1]?.vertices[1]).toMatchObject({
      lonLat: { lon: 4, lat: 5 },
      position: { time: '2025-06-03T09:01:00Z' },
    });
  });

  it('is repaired where spaces stand behind the commas, and says so', () => {
    const { places, notes } = kml('<Placemark><Point><coordinates>10.1, 47.1, 401</coordinates></Point></Placemark>');
    expect(places?.points[0]).toMatchObject({ lonLat: { lon: 10.1, lat: 47.1 }, position: { elevation_m: 401 } });
    expect(notes).toMatchObject([{ kind: 'guessed', column: 'coordinates' }]);
    // Commas between the places too: it could be read in two ways.
    expect(
      kml('<Placemark><LineString><coordinates>10.1, 47.1, 10.2, 47.2</coordinates></LineString></Placemark>').faults,
    ).toHaveLength(1);
  });

  it('takes altitudes only where they are heights', () => {
    const heightOf = (mode: string, altitude: number) =>
      kml(`<Placemark><Point>${mode}<coordinates>1,2,${altitude}</coordinates></Point></Placemark>`);
    const height = (outcome: ReturnType<typeof heightOf>) => outcome.places?.points[0]?.position.elevation_m;
    expect(height(heightOf('<altitudeMode>absolute</altitudeMode>', 0))).toBe(0);
    expect(height(heightOf('', 12))).toBe(12);
    expect(height(heightOf('', 0))).toBeUndefined();
    const above = heightOf('<altitudeMode>relativeToGround</altitudeMode>', 5);
    expect(height(above)).toBeUndefined();
    expect(above.notes).toMatchObject([{ kind: 'skipped', column: 'altitudeMode' }]);
  });

  it('is read behind a prefix', () => {
    const text =
      '<k:kml xmlns:k="http://www.opengis.net/kml/2.2"><k:Placemark><k:Point><k:coordinates>1,2</k:coordinates></k:Point></k:Placemark></k:kml>';
    expect(placesOf('a.kml', utf8(text)).places?.points).toHaveLength(1);
  });
});

describe('a GeoJSON file', () => {
  it('may be a collection, a feature, or a bare geometry', () => {
    const point = { type: 'Point', coordinates: [11, 47] };
    for (const value of [{ type: 'FeatureCollection', features: [feature(point)] }, feature(point), point]) {
      expect(geojson(value).places?.points).toMatchObject([{ lonLat: { lon: 11, lat: 47 } }]);
    }
    expect(placesOf('a.json', utf8(`\ufeff${JSON.stringify(point)}`)).places?.points).toHaveLength(1);
  });

  it('gives many points, lines and outlines', () => {
    const ring = [
      [
        [1, 1],
        [2, 1],
        [2, 2],
        [1, 1],
      ],
      [
        [1.1, 1.1],
        [1.2, 1.1],
        [1.2, 1.2],
        [1.1, 1.1],
      ],
    ];
    const { places, notes } = geojson({
      type: 'FeatureCollection',
      features: [
        feature(
          {
            type: 'MultiPoint',
            coordinates: [
              [1, 2],
              [3, 4],
            ],
          },
          { name: 'P' },
        ),
        feature(
          {
            type: 'MultiLineString',
            coordinates: [
              [
                [1, 2],
                [3, 4],
              ],
              [
                [5, 6],
                [7, 8],
              ],
            ],
          },
          { name: 'L' },
        ),
        feature({ type: 'GeometryCollection', geometries: [{ type: 'Polygon', coordinates: ring }] }, null),
      ],
    });
    expect(places?.points.map(({ key }) => key)).toEqual(['P', 'P (2)']);
    expect(places?.lines.map(({ name, kind }) => [name, kind])).toEqual([
      ['L part 1', 'line'],
      ['L part 2', 'line'],
      [null, 'outline'],
    ]);
    expect(places?.leftOut).toBe(4);
    expect(notes).toMatchObject([{ kind: 'skipped', column: 'features.2' }]);
  });

  it('is read in the system that its crs member names', () => {
    // EPSG:32614 at its central meridian 99° W on the equator is easting 500 000, northing 0 (EPSG Guidance Note 7-2).
    const named = (name: string) => ({
      type: 'Point',
      coordinates: [500000, 0],
      crs: { type: 'name', properties: { name } },
    });
    for (const name of ['EPSG:32614', 'urn:ogc:def:crs:EPSG::32614']) {
      const point = geojson(named(name)).places?.points[0];
      expect(point?.position).toMatchObject({ x: 500000, y: 0, crs: 'EPSG:32614' });
      expect(point?.lonLat.lon).toBeCloseTo(-99, 9);
      expect(point?.lonLat.lat).toBeCloseTo(0, 9);
    }
    for (const name of ['somewhere', 'EPSG:999999']) expect(geojson(named(name)).faults).toHaveLength(1);
    expect(geojson({ ...named(''), crs: null }).faults).toHaveLength(1);
    const wgs84 = { ...named('urn:ogc:def:crs:OGC:1.3:CRS84'), coordinates: [1, 2] };
    expect(geojson(wgs84)).toMatchObject({ faults: [], notes: [] });
  });

  it('is never read with a coordinate that it does not have', () => {
    for (const coordinates of [['11', '47'], [11], [11, null], [11, 95], [500000, 5200000], {}, null]) {
      const { places, faults } = geojson({ type: 'Point', coordinates });
      expect([places?.points.length, faults.length > 0]).toEqual([0, true]);
    }
  });

  it('says which features have no place', () => {
    const { notes } = geojson({ type: 'FeatureCollection', features: [feature(null, { name: 'foo' })] });
    expect(notes[0]).toMatchObject({
      kind: 'skipped',
      sentence: 'a.geojson, feature 1: "foo" has no place and was left out.',
    });
  });

  it('is refused where it breaks off or is other JSON', () => {
    const text = JSON.stringify({ type: 'Point', coordinates: [1, 2] });
    for (let length = 1; length < text.length; length += 1) {
      expect(placesOf('a.geojson', utf8(text.slice(0, length))).faults).toHaveLength(1);
    }
    expect(geojson([{ lat: 1, lon: 2 }]).faults).toHaveLength(1);
  });

  it('that was written here is no news from the field', () => {
    const own = { ...feature({ type: 'Point', coordinates: [1, 2] }, { sid: 'a' }), id: 'a' };
    const { places, notes } = geojson({ type: 'FeatureCollection', features: [own] });
    expect(places?.points).toEqual([]);
    expect(notes[0]?.sentence).toContain('computed here');
  });
});
