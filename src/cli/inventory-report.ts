import { appraise } from '../appraise';
import { readKarstGeoJson } from '../exchange/read/karst-geojson';
import { zoneArea } from '../exchange/write/zone-area';
import { type FeatureDistance, type Footprint, footprintDistances } from '../karst/distances';
import { EQUAL_AREA_WORDS, GEODESIC_WORDS } from '../karst/equal-area';
import { featuresWords, leftOutWords, typeWords } from '../karst/feature-words';
import { testAxes } from '../karst/long-axes';
import { labelOf } from '../karst/match';
import { type NeighbourIndex, neighbourIndex } from '../karst/nearest-neighbour';
import type { PlacedFeature } from '../karst/placed';
import { type LonLat, toLonLat } from '../position/crs';
import { featureTypeOf } from '../survey/feature-type';
import { faultOf, printable } from './faults';
import { COUNT_OPTIONS, countedOf, lengthOption, placedOf } from './inventory-counted';
import { type KeeperFile, readDocument, readKeepers, readLines } from './inventory-read';
import { parsed } from './options';
import { bytesOf } from './read-survey';
import { settingsFor } from './settings-for';

const NEAR_ZONES_M = 500;

/** `inventory report`: what was read, what is wrong in it, and what can be measured. */
export function inventoryReport(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    ...COUNT_OPTIONS,
    region: { type: 'string' },
    within: { type: 'string' },
  });
  const withinM = lengthOption(values.within, '--within', 0) ?? NEAR_ZONES_M;
  const ring = values.region === undefined ? null : regionOf(values.region);
  const keepers = readKeepers(positionals, values.columns);
  const { placed, unplaced } = placedOf(keepers);
  const counted = countedOf(placed, values);
  const neighbours = neighbourIndex(
    counted.features.map(({ place }) => place),
    ring === null ? {} : { ring },
  );
  const axes = testAxes(counted.features.flatMap(({ feature }) => feature.long_axis_deg ?? []));
  const zones = zonesOf(keepers);
  const near = footprintDistances(zones, counted.features, withinM);
  const tally = (of: (each: PlacedFeature) => string): Record<string, number> => {
    const counts = new Map<string, number>();
    for (const each of placed) counts.set(of(each), (counts.get(of(each)) ?? 0) + 1);
    return Object.fromEntries([...counts].sort(([p, m], [q, n]) => n - m || (p < q ? -1 : 1)));
  };
  const types = tally(({ feature }) => featureTypeOf(feature.type) ?? `not known: ${feature.type.slice(0, 60)}`);
  const states = tally(({ feature }) => feature.status);
  if (values.json) {
    const document = {
      files: keepers.map(readDocument),
      features: placed.length,
      types,
      states,
      unplaced: unplaced.map(({ feature, sentence }) => ({ id: feature.id, sentence })),
      measured: counted.features.length,
      left_out: counted.leftOut,
      nearest_neighbour: neighbours === null ? null : neighbourDocument(neighbours, ring !== null),
      long_axes: axes && {
        count: axes.count,
        mean_deg: axes.meanDeg,
        resultant: axes.resultant,
        rayleigh_z: axes.rayleighZ,
        p: axes.p,
        rose: axes.rose.map(({ fromDeg, toDeg, count }) => ({ from_deg: fromDeg, to_deg: toDeg, count })),
      },
      zones: near.map(({ footprint, featureId, distanceM, r95M }) => ({
        zone: footprint,
        feature: featureId,
        distance_m: Number(distanceM.toFixed(2)),
        position_uncertainty_95_m: Number(r95M.toFixed(2)),
      })),
      areas: EQUAL_AREA_WORDS,
      distances: GEODESIC_WORDS,
    };
    print(JSON.stringify(document, null, 2));
    return 0;
  }
  const lines = [
    ...keepers.flatMap((keeper) => readLines(keeper)),
    '',
    `${featuresWords(placed.length)}: ${
      Object.entries(tally(({ feature }) => typeWords(feature.type)))
        .map(([type, count]) => `${count} ${type}`)
        .join(', ') || 'none'
    }.`,
    ...unplaced.map(({ feature, sentence }) => `  Not placed: ${feature.name ?? feature.id}: ${sentence}`),
    `Measured: ${featuresWords(counted.features.length)}. ${leftOutWords(counted.leftOut)}`.trimEnd(),
    ...neighbourLines(neighbours, ring !== null),
    ...(axes === null
      ? ['No long axes are written down.']
      : [
          `Long axes: ${axes.count}, mean ${axes.meanDeg?.toFixed(0) ?? 'none'}°, Rayleigh z ${axes.rayleighZ.toFixed(2)}, p ${axes.p.toPrecision(2)}.`,
        ]),
    ...nearLines(near, zones, placed),
    EQUAL_AREA_WORDS,
    GEODESIC_WORDS,
  ];
  print(lines.map(printable).join('\n'));
  return 0;
}

function neighbourDocument(index: NeighbourIndex, regionSaid: boolean): object {
  const test = ({ index: value, expectedM, standardErrorM, z, p }: NeighbourIndex['donnelly']) => ({
    index: value,
    expected_m: expectedM,
    standard_error_m: standardErrorM,
    z,
    p,
  });
  return {
    count: index.count,
    coincident: index.coincident,
    region: regionSaid ? 'said' : 'convex hull of the features, which is too small for a fair test',
    area_m2: index.areaM2,
    perimeter_m: index.perimeterM,
    mean_distance_m: index.meanDistanceM,
    clark_evans: test(index.clarkEvans),
    donnelly: test(index.donnelly),
  };
}

function neighbourLines(index: NeighbourIndex | null, regionSaid: boolean): readonly string[] {
  if (index === null) return ['No nearest-neighbour index: it needs 8 features at least that do not stand in a row.'];
  const { donnelly, clarkEvans } = index;
  return [
    `Nearest neighbours: mean ${index.meanDistanceM.toFixed(0)} m; index ${donnelly.index.toFixed(3)} (Donnelly), z ${donnelly.z.toFixed(2)}, p ${donnelly.p.toPrecision(2)}; without edge ${clarkEvans.index.toFixed(3)}.`,
    `  Region: ${regionSaid ? 'as said' : 'the convex hull of the features, which is too small for a fair test; say --region'}.${index.coincident > 0 ? ` ${index.coincident} features share their place with another.` : ''}`,
  ];
}

function nearLines(
  near: readonly FeatureDistance[],
  zones: readonly Footprint[],
  placed: readonly PlacedFeature[],
): readonly string[] {
  if (zones.length === 0) return [];
  const byId = new Map(placed.map((each) => [each.feature.id, each]));
  const names = new Map(zones.map(({ key, name }) => [key, name]));
  return [
    `${zones.length} zones; features near them:`,
    ...near.slice(0, 50).map(({ footprint, featureId, distanceM, r95M }) => {
      const feature = byId.get(featureId);
      return `  ${names.get(footprint)}: ${feature ? labelOf(feature) : featureId} at ${distanceM.toFixed(0)} m, within ${r95M.toFixed(0)} m`;
    }),
  ];
}

/** Zones of the surveys among the files. */
function zonesOf(keepers: readonly KeeperFile[]): readonly Footprint[] {
  return keepers.flatMap(({ survey }) => {
    if (!survey || survey.lines.length === 0) return [];
    const findings = appraise(survey, settingsFor(survey));
    const lines = new Map(findings.lines.map((line) => [line.lineId, line]));
    return findings.zones.map((zone) => ({
      key: zone.key,
      name: zone.name,
      rings: zoneArea(zone, lines).coordinates.flatMap((polygon) =>
        polygon.map((ring) => ring.map(([lon = 0, lat = 0]): LonLat => ({ lon, lat }))),
      ),
    }));
  });
}

function regionOf(path: string): readonly LonLat[] {
  const read = readKarstGeoJson(bytesOf(path));
  if (!read.ok) throw faultOf(path, '1', read.code, `a GeoJSON polygon. ${read.sentence}`);
  const areas = [...read.value.features].filter(({ shape }) => shape === 'area');
  const [only] = areas;
  if (!only || areas.length > 1 || only.parts.length > 1)
    throw faultOf(path, '1', `${areas.length} areas`, 'one polygon without holes');
  return only.positions.slice(0, -1).map((position) => {
    const place = toLonLat(position, []);
    if (!place.ok) throw faultOf(path, '1', place.code, place.sentence);
    return place.value;
  });
}
