import type { Geometry, Position } from 'geojson';
import { isOutside } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { featureLayers, setbackLayer } from '../exchange/write/feature-layers';
import { type LayerName, midpointSidOf } from '../exchange/write/layer-collection';
import { buildLayers, buildLineLayers } from '../exchange/write/layers';
import { type MarkKey, markKey } from '../figures/mark-key';
import { markWords } from '../figures/mark-words';
import type { FeatureGlyph, MapFeature, MapPoint, MapRings, SiteMapData } from '../figures/site-map-data';
import type { MidpointFinding } from '../findings';
import { countedFeatures } from '../karst/counted';
import { DEFINITIONS } from '../karst/definitions';
import { placeFeatures } from '../karst/placed';
import { readSetbackRules } from '../karst/setback-rules';
import { setbacksOf } from '../karst/setbacks';
import { localPlane, type Plane } from '../position/crs';
import type { FeatureType } from '../survey/feature-type';
import { HOOKUP_LABEL, isTwoProbe } from '../survey/hookup';
import type { Feature } from '../survey/survey';
import { metres, ratioText } from '../survey/wording';
import { shortText, shownText } from './html';
import { doubtWords } from './page-doubts';

/** What the map shows, and where on earth its middle is. */
export interface PageSite {
  readonly data: SiteMapData;
  readonly middle: { readonly lon: number; readonly lat: number };
  /** Largest 95 % radius of the readings' places, m; null without readings. */
  readonly uncertainty95M: number | null;
}

/** More strokes than this that can be asked one by one would make a page slow; the rest is drawn and not asked. */
const MOST_ASKABLE = 2000;

/** The site of a share in a plane about its middle, in words and shapes. Outsiders see no two-probe reading graded. */
export function pageSite(disclosed: Disclosed): PageSite {
  const { findings, survey, audience } = disclosed;
  const drawn = (only: LayerName) => ({ drape: 'midpoint', drawn: 'far', only }) as const;
  const layer = (only: LayerName) => buildLayers(disclosed, drawn(only))[only].features;
  const { lines } = buildLayers(disclosed, drawn('lines'));
  const features = featureLayers(disclosed);
  const middle = middleOf(lines.bbox ?? features.feature_points.bbox ?? features.feature_areas.bbox);
  const plane = localPlane(middle.lon, middle.lat);
  const shapes = shaper(plane);
  const midpoints = new Map(findings.lines.flatMap((line) => line.midpoints.map((each) => [each.key, each] as const)));
  const lineNames = new Map(findings.lines.map(({ lineId, name }) => [lineId, name]));
  const keyOf = (midpoint: MidpointFinding): MarkKey =>
    isOutside(audience) && isTwoProbe(midpoint.hookup) ? 'not_graded' : markKey(midpoint);
  const graded = [...midpoints.values()]
    .filter((midpoint) => !['none', 'not_graded'].includes(keyOf(midpoint)))
    .sort((p, q) => Math.abs(q.zScore ?? 0) - Math.abs(p.zScore ?? 0));
  const askable = new Set(graded.slice(0, MOST_ASKABLE).map(({ key }) => key));
  const zones = new Map(findings.zones.map((zone) => [zone.key, zone]));
  const data: SiteMapData = {
    title: `Map of ${shortText(survey.site.name)}`,
    summary:
      'North is up. Lines of readings, the corridors within which the target void would have shown, zones, karst features. Hatched ground is not surveyed. Everything that is drawn is also listed in words.',
    lines: lines.features.map(({ id, geometry, properties }) => {
      const name = shortText(String(properties.line));
      return {
        id: String(id),
        name,
        words: `Line ${name}, ${metres(Number(properties.length_m))}, ${properties.readings} readings.`,
        pieces: shapes.lines(geometry),
      };
    }),
    // Line by line: of a large survey they are too many to stand beside what is made of them.
    segments: findings.lines.flatMap((line) =>
      buildLineLayers(disclosed, line, drawn('segments')).segments.flatMap(({ id, geometry }) => {
        const midpoint = midpoints.get(midpointSidOf(id));
        if (!midpoint) return [];
        const words = askable.has(midpoint.key)
          ? segmentWords(midpoint, lineNames.get(midpoint.lineId) ?? '', keyOf(midpoint))
          : null;
        return shapes.lines(geometry).map((piece) => ({ id, words, key: keyOf(midpoint), piece }));
      }),
    ),
    zones: layer('zones').flatMap(({ id, geometry }) => {
      const zone = zones.get(String(id));
      return zone
        ? [
            {
              id: zone.key,
              name: shortText(zone.name),
              words: shownText(zone.paragraph),
              verdict: zone.verdict,
              hint: zone.figureKind === 'two_probe',
              rings: shapes.rings(geometry),
            },
          ]
        : [];
    }),
    corridors: layer('corridors').map(({ id, geometry, properties }) => ({
      id: String(id),
      words: `Surveyed, line ${shortText(String(properties.line))}, ${metres(Number(properties.chainage_from_m))} to ${metres(Number(properties.chainage_to_m))}, to ${metres(Number(properties.half_width_m))} on either side: an air-filled chamber of radius ${metres(Number(properties.target_radius_m))}, centre ${metres(Number(properties.target_depth_m))} down, would have changed a reading by 2 standard errors. A smaller or deeper one might not.`,
      rings: shapes.rings(geometry),
    })),
    setbacks: setbacksIn(disclosed).features.map(({ id, geometry, properties }) => ({
      id: String(id),
      words: `Setback of ${metres(Number(properties.distance_m))} by the survey’s own rule${properties.cites ? ` (${shortText(String(properties.cites), 200)})` : ''}.`,
      rings: shapes.rings(geometry),
    })),
    features: featuresIn(disclosed, features, shapes),
  };
  const radii = [...midpoints.values()].map(({ uncertainty95M }) => uncertainty95M);
  return { data, middle, uncertainty95M: radii.length > 0 ? radii.reduce((p, q) => Math.max(p, q)) : null };
}

function middleOf(bbox: readonly number[] | undefined): { lon: number; lat: number } {
  const [west = 0, south = 0, east = 0, north = 0] = bbox ?? [];
  const across = east < west ? east + 360 : east;
  const lon = (west + across) / 2;
  return { lon: lon > 180 ? lon - 360 : lon, lat: (south + north) / 2 };
}

interface Shaper {
  lines(geometry: Geometry): readonly (readonly MapPoint[])[];
  rings(geometry: Geometry): MapRings;
  point(geometry: Geometry): MapPoint | null;
}

function shaper(plane: Plane): Shaper {
  const at = ([lon = 0, lat = 0]: Position): MapPoint => plane.toPlane(lon, lat);
  return {
    lines: (geometry) =>
      geometry.type === 'LineString'
        ? [geometry.coordinates.map(at)]
        : geometry.type === 'MultiLineString'
          ? geometry.coordinates.map((piece) => piece.map(at))
          : [],
    rings: (geometry) =>
      geometry.type === 'MultiPolygon' ? geometry.coordinates.flat().map((ring) => ring.slice(0, -1).map(at)) : [],
    point: (geometry) => (geometry.type === 'Point' ? at(geometry.coordinates) : null),
  };
}

function segmentWords(midpoint: MidpointFinding, line: string, key: MarkKey): string {
  const { chainageM, spacingM, hookup, ratio, ratioStandardError, depthM, doubts, uncertainty95M } = midpoint;
  const spacing = spacingM === null ? '' : `, spacing ${metres(spacingM)}`;
  const against =
    ratio === null ? '' : ` ${ratioText(ratio)} ± ${ratioText(ratioStandardError ?? 0)} times the reference.`;
  const depth =
    depthM === null ? '' : ` It looks at about ${metres(depthM)} below ground, which is no depth of anything found.`;
  const doubted = doubts.length > 0 ? ` Doubts: ${doubts.map(doubtWords).join('; ')}.` : '';
  return `Reading on line ${shortText(line)} at ${metres(chainageM)}${spacing}, ${HOOKUP_LABEL[hookup]}: ${markWords(key, isTwoProbe(hookup))}.${against}${depth} Placed within ${metres(uncertainty95M)} (95 %).${doubted} One reading alone is no finding.`;
}

/** The setbacks of the survey's own rules; none where the rules cannot be read. */
function setbacksIn(disclosed: Disclosed) {
  const { survey } = disclosed;
  const rules = readSetbackRules(survey.site.setback_rules);
  const { placed } = placeFeatures(survey.features, survey.site.local_grids);
  return setbackLayer(disclosed, rules.ok ? setbacksOf(countedFeatures(placed).features, rules.value).setbacks : []);
}

function featuresIn(
  { survey }: Disclosed,
  layers: ReturnType<typeof featureLayers>,
  shapes: Shaper,
): readonly MapFeature[] {
  const records = new Map<string, Feature>(survey.features.map((feature) => [feature.id, feature]));
  const all = [layers.feature_areas, layers.feature_lines, layers.feature_points].flatMap(({ features }) => features);
  return all.flatMap(({ id, geometry }) => {
    const record = records.get(String(id));
    if (!record || record.status === 'rejected') return [];
    return [
      {
        id: record.id,
        words: featureWords(record),
        glyph: glyphOf(record.type),
        point: shapes.point(geometry),
        lines: shapes.lines(geometry),
        rings: shapes.rings(geometry),
        gridM: record.generalised_grid_m ?? null,
      },
    ];
  });
}

/** A karst feature in a sentence or two. */
export function featureWords(feature: Feature): string {
  const label = (DEFINITIONS as Record<string, { label: string } | undefined>)[feature.type]?.label;
  const name = feature.name ? `: ${shortText(feature.name, 120)}` : '';
  const seen = feature.status === 'field_checked' ? 'Seen in the field.' : 'Reported, not verified.';
  const sizes = [
    ...(feature.length_m ? [`${metres(feature.length_m)} long`] : []),
    ...(feature.width_m ? [`${metres(feature.width_m)} wide`] : []),
    ...(feature.depth_m ? [`${metres(feature.depth_m)} deep`] : []),
  ];
  const size = sizes.length > 0 ? ` ${sizes.join(', ')}.` : '';
  const grid = feature.generalised_grid_m;
  const blurred = grid ? ` Shown only to a square of ${metres(grid)}, to protect the place.` : '';
  const source = feature.source ? ` Source: ${shortText(feature.source, 200)}.` : '';
  return `${label ?? shortText(feature.type)}${name}. ${seen}${size}${blurred}${source}`;
}

const OPENINGS: readonly FeatureType[] = ['cave_entrance', 'shaft', 'karst_window'];
const WATERS: readonly FeatureType[] = ['swallow_hole', 'sinking_stream', 'losing_reach', 'spring', 'estavelle'];

function glyphOf(type: string): FeatureGlyph {
  if (OPENINGS.some((each) => each === type)) return 'opening';
  if (WATERS.some((each) => each === type)) return 'water';
  return /^sinkhole|^depression/.test(type) ? 'hollow' : 'other';
}
