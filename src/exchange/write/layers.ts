import type { Position } from 'geojson';
import ramp from '../../../styles/ramp.json';
import type { Disclosed } from '../../discretion/disclose';
import type { CorridorFinding, Findings, LineFindings, MidpointFinding } from '../../findings';
import type { Survey } from '../../survey/survey';
import { coordinate } from './coordinate';
import { corridorArea } from './corridor-area';
import { cutAtAntimeridian, type GroundPath, groundPath } from './ground-path';
import {
  type Distance,
  DRAWN,
  type Drape,
  electrodeSid,
  joinLayers,
  type LayerFeature,
  type LayerName,
  type Layers,
  type LayerValue,
  type LineLayers,
  NO_FEATURES,
  strokeSid,
} from './layer-collection';
import { decimals, feature } from './layer-feature';
import type { Projected } from './projected';
import { nextReadingFeatures, zoneFeatures } from './zone-features';

export interface LayerOptions {
  /** Segments on the midpoints, or on both probes of each reading. */
  readonly drape: Drape;
  /** Adds projected columns to what has one place. */
  readonly projected?: Projected | null;
  /** For a map: only the layers that it shows from so far, and of midpoints and segments only what it draws. */
  readonly drawn?: Distance;
  /** Makes this layer and leaves the others empty. */
  readonly only?: LayerName;
}

/**
 * The one builder of what is on the map and in the files.
 * RFC 7946: WGS 84, one geometry type a layer, right-hand rings, no `crs`, bbox, 7 decimals; `id` at the top and again
 * as `sid`; lists joined by `;`; missing = null.
 */
export function buildLayers(disclosed: Disclosed, options: LayerOptions): Layers {
  const lines = disclosed.findings.lines.map((line) => buildLineLayers(disclosed, line, options));
  return joinLayers([...lines, buildSurveyLayers(disclosed, options)]);
}

/** What belongs to no one line: zones, and the readings that are proposed next. */
export function buildSurveyLayers({ findings }: Disclosed, options: LayerOptions): LineLayers {
  const near = options.drawn === 'near';
  return {
    ...NO_FEATURES,
    zones: near ? [] : zoneFeatures(findings),
    next_readings: near ? [] : nextReadingFeatures(findings, options.projected ?? null),
  };
}

/** The part of one line in every layer. */
export function buildLineLayers(
  { findings, survey }: Disclosed,
  line: LineFindings,
  options: LayerOptions,
): LineLayers {
  const path = groundPath(line.track);
  const wanted = (name: LayerName): boolean =>
    (options.only === undefined || options.only === name) &&
    (options.drawn === undefined || (DRAWN[options.drawn] as readonly LayerName[]).includes(name));
  const of = <T>(name: LayerName, findings: readonly T[]): readonly T[] => (wanted(name) ? findings : []);
  return {
    lines: of('lines', [line]).map(() => lineFeature(line, survey)),
    controls: of('controls', line.controls).map((control) =>
      pointFeature(control.id, control, options, {
        line: line.name,
        chainage_m: decimals(control.chainageM, 3),
        kind: control.kind,
        source: control.source,
        residual_m: decimals(control.residualM, 3),
        residual_sigma: decimals(control.residualSigma, 2),
        position_uncertainty_95_m: decimals(control.uncertainty95M, 2),
      }),
    ),
    electrodes: of('electrodes', line.electrodes).map((electrode) =>
      pointFeature(electrodeSid(line, electrode), electrode, options, {
        line: line.name,
        chainage_m: decimals(electrode.chainageM, 3),
        role: electrode.role,
        elevation_m: decimals(electrode.elevationM, 2),
        reading_count: electrode.readingCount,
        position_uncertainty_95_m: decimals(electrode.uncertainty95M, 2),
      }),
    ),
    midpoints: of('midpoints', line.midpoints).map((midpoint) =>
      pointFeature(midpoint.key, midpoint, options, midpointProperties(line, midpoint, options)),
    ),
    segments: of('segments', line.midpoints).flatMap((midpoint) => segmentFeatures(line, midpoint, path, options)),
    corridors: of('corridors', line.corridors).map((corridor, i) => corridorFeature(line, corridor, i, path, findings)),
    zones: [],
    next_readings: [],
  };
}

function corridorFeature(
  line: LineFindings,
  corridor: CorridorFinding,
  index: number,
  path: GroundPath,
  findings: Findings,
): LayerFeature {
  const { target } = findings.provenance.settings;
  const area = corridorArea(path, corridor.fromM, corridor.toM, corridor.halfWidthM);
  return feature(`${line.lineId}:corridor:${index + 1}`, area, {
    line: line.name,
    chainage_from_m: decimals(corridor.fromM, 3),
    chainage_to_m: decimals(corridor.toM, 3),
    half_width_m: decimals(corridor.halfWidthM, 1),
    target_kind: 'air_filled_chamber',
    target_radius_m: target.radiusM,
    target_depth_m: target.depthToCentreM,
    smallest_chamber_radius_m: smallestFound(line, corridor, 'chamber', findings),
    smallest_passage_radius_m: smallestFound(line, corridor, 'passage', findings),
    meaning:
      'within it an air-filled chamber of the target size and depth would have changed a reading by 2 standard errors; outside it is not surveyed, never safe',
    stroke: '#6b6558',
    'stroke-width': 1,
    fill: '#6b6558',
    'fill-opacity': 0.12,
  });
}

/**
 * The smallest void at the target's depth that a search would have found everywhere along a corridor; null where the line
 * was not searched, or where none would have been found.
 */
function smallestFound(
  { lineId }: LineFindings,
  { fromM, toM }: CorridorFinding,
  kind: 'chamber' | 'passage',
  { findable, provenance }: Findings,
): number | null {
  const own = findable.filter((place) => place.lineId === lineId && place.kind === kind);
  const { depthToCentreM } = provenance.settings.target;
  const nearest = own.reduce(
    (best, { depthM }) => (Math.abs(depthM - depthToCentreM) < Math.abs(best - depthToCentreM) ? depthM : best),
    Infinity,
  );
  const along = own.filter(({ depthM, chainageM }) => depthM === nearest && chainageM >= fromM && chainageM <= toM);
  if (along.length === 0 || along.some(({ radiusM }) => radiusM === null)) return null;
  return decimals(Math.max(...along.map(({ radiusM }) => radiusM ?? 0)), 2);
}

/** Five digits keep the arithmetic of a reading; the field is never that good. */
const digits = (value: number | null): number | null => (value === null ? null : Number(value.toPrecision(5)));

function pointFeature(
  sid: string,
  place: { readonly lon: number; readonly lat: number },
  options: LayerOptions,
  properties: Record<string, LayerValue>,
): LayerFeature {
  const projected = options.projected?.columns(place.lon, place.lat);
  const all = projected ? { ...properties, ...projected } : properties;
  return feature(sid, { type: 'Point', coordinates: [...coordinate(place)] }, all);
}

function lineFeature(line: LineFindings, survey: Survey): LayerFeature {
  const names = new Map(survey.outings.map((outing) => [outing.id, outing.name]));
  const corners = line.track.filter(({ corner }) => corner);
  return feature(
    line.lineId,
    { type: 'MultiLineString', coordinates: cutAtAntimeridian(corners).map(mutable) },
    {
      line: line.name,
      hookup: line.hookups.join(';') || null,
      length_m: decimals(line.lengthM, 2),
      readings: line.readingCount,
      outings: line.outings.map((id) => names.get(id) ?? id).join(';'),
      stroke: '#4a443a',
      'stroke-width': 1,
    },
  );
}

const mutable = (piece: readonly (readonly [number, number])[]): Position[] => piece.map(([lon, lat]) => [lon, lat]);

function midpointProperties(
  line: LineFindings,
  midpoint: MidpointFinding,
  { drawn }: LayerOptions,
): Record<string, LayerValue> {
  if (drawn) return { spacing_m: decimals(midpoint.spacingM, 3) };
  return Object.assign(figureProperties(line, midpoint), {
    'marker-color': strokeOf(midpoint).colour,
    'marker-size': 'small',
  });
}

/** What decides where and how a stroke is drawn. */
function drawnProperties(line: LineFindings, midpoint: MidpointFinding): Record<string, LayerValue> {
  return {
    line: line.name,
    spacing_m: decimals(midpoint.spacingM, 3),
    figure_kind: midpoint.figureKind,
    grade: midpoint.grade,
    sign: midpoint.sign,
    // Whether it was over range shows only where there is no figure.
    ...(midpoint.figureOhmM === null ? { doubts: midpoint.doubts.join(';') } : {}),
  };
}

// What is added to these is assigned: a large object that is spread into another leaves several times its size behind.
function figureProperties(line: LineFindings, midpoint: MidpointFinding): Record<string, LayerValue> {
  return {
    line: line.name,
    chainage_m: decimals(midpoint.chainageM, 3),
    spacing_m: decimals(midpoint.spacingM, 3),
    hookup: midpoint.hookup,
    reading_count: midpoint.readingCount,
    figure_ohm_m: digits(midpoint.figureOhmM),
    figure_kind: midpoint.figureKind,
    reference_ohm_m: digits(midpoint.referenceOhmM),
    ratio: decimals(midpoint.ratio, 4),
    ratio_standard_error: decimals(midpoint.ratioStandardError, 4),
    z_score: decimals(midpoint.zScore, 2),
    grade: midpoint.grade,
    sign: midpoint.sign,
    depth_m: decimals(midpoint.depthM, 2),
    depth_rule: midpoint.depthRule,
    doubts: midpoint.doubts.join(';'),
    a_chainage_m: decimals(midpoint.aM, 3),
    b_chainage_m: decimals(midpoint.bM, 3),
    m_chainage_m: decimals(midpoint.mM, 3),
    n_chainage_m: decimals(midpoint.nM, 3),
    position_uncertainty_95_m: decimals(midpoint.uncertainty95M, 2),
    measured_at: midpoint.measuredAt,
  };
}

type RampKey = keyof typeof ramp.stroke.light;

/** Colour and width of a finding in the files; the only table of them is `styles/ramp.json`. */
function strokeOf({ grade, sign, figureOhmM, doubts }: MidpointFinding): { colour: string; width: number } {
  let key: RampKey = 'not_graded';
  if (figureOhmM === null && doubts.includes('over_range')) key = 'over_range';
  else if (grade === 'none') key = 'none';
  else if (grade && sign) key = `${grade}_${sign === 'above_reference' ? 'above' : 'below'}`;
  return { colour: ramp.stroke.light[key], width: ramp.stroke_width_px[key] };
}

function segmentFeatures(
  line: LineFindings,
  midpoint: MidpointFinding,
  path: GroundPath,
  options: LayerOptions,
): LayerFeature[] {
  const isDrawn = options.drawn !== undefined;
  const { colour, width } = strokeOf(midpoint);
  const projected = options.projected?.columns(midpoint.lon, midpoint.lat) ?? {};
  const { drape, stretches } = drapedOn(midpoint, options.drape);
  let part = 0;
  return stretches.flatMap(({ fromM, toM }) => {
    const places = path.cut(fromM, toM).map(([x, y]) => path.plane.toLonLat(x, y));
    return cutAtAntimeridian(places).map((piece) => {
      part += 1;
      return feature(
        strokeSid(midpoint.key, drape, part),
        { type: 'LineString', coordinates: mutable(piece) },
        isDrawn
          ? Object.assign(drawnProperties(line, midpoint), { drape })
          : Object.assign(figureProperties(line, midpoint), {
              chainage_from_m: decimals(fromM, 3),
              chainage_to_m: decimals(toM, 3),
              part,
              drape,
              ...projected,
              stroke: colour,
              'stroke-width': width,
              'stroke-opacity': 1,
            }),
      );
    });
  });
}

/** Only a reading of two probes on the line can be draped on them; the others stay on their midpoint, and say so. */
function drapedOn(
  midpoint: MidpointFinding,
  wanted: Drape,
): { drape: Drape; stretches: readonly { fromM: number; toM: number }[] } {
  const { chainageM, fromM, toM, hookup, aM } = midpoint;
  const second = hookup === 'pole_pole' ? midpoint.mM : midpoint.figureKind === 'two_probe' ? midpoint.bM : null;
  if (wanted === 'midpoint' || aM === null || second === null)
    return { drape: 'midpoint', stretches: [{ fromM, toM }] };
  return {
    drape: 'probes',
    stretches: [aM, second].map((probeM) => ({
      fromM: probeM - (chainageM - fromM),
      toM: probeM + (toM - chainageM),
    })),
  };
}
