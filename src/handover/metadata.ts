import type { BBox } from 'geojson';
import { AUDIENCE_WORDS, isOutside } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { type DictionaryLayer, GEOMETRY_TYPES, LAYER_MEANINGS } from '../exchange/write/dictionary';
import { CAUTIONS } from '../survey/cautions';
import { counted } from '../survey/wording';
import type { ShareTerms } from './terms';

/** What the places of a share are known to, said of what was computed and what was measured. */
export interface AccuracyStatement {
  readonly statement: string;
  readonly median95M: number | null;
  readonly worst95M: number | null;
}

/**
 * How sure the places are. Radii are computed from fixes, tape and legs, not tested: the word of the standard for tested
 * accuracy (FGDC-STD-007.3-1998) needs independent check points, which this record does not know.
 */
export function accuracyOf({ findings }: Disclosed): AccuracyStatement {
  const radii = findings.lines
    .flatMap(({ electrodes }) =>
      electrodes.filter(({ role }) => role === 'probe').map(({ uncertainty95M }) => uncertainty95M),
    )
    .filter(Number.isFinite)
    .sort((p, q) => p - q);
  const median95M = radii[radii.length >> 1] ?? null;
  const worst95M = radii[radii.length - 1] ?? null;
  if (median95M === null || worst95M === null) {
    return { statement: 'No electrode has a place.', median95M, worst95M };
  }
  return {
    statement: `Computed, not tested against independent check points: half of the electrodes are known to ${median95M.toFixed(1)} m or better, all to ${worst95M.toFixed(1)} m, each by the radius that holds its place with 95 %. Every point carries its own.`,
    median95M,
    worst95M,
  };
}

/** A layer as it was written. */
export interface WrittenLayer {
  readonly name: DictionaryLayer;
  readonly features: number;
  readonly bbox: BBox | null;
}

/** What the metadata of a pack begin with, by which a reader knows one. */
export const PACK_FORMAT = 'hollowline-pack';
export const PACK_VERSION = 1;

/** The core elements of ISO 19115-1 of a share, by the names of the standard, as JSON text. */
export function metadataText(disclosed: Disclosed, terms: ShareTerms, layers: readonly WrittenLayer[]): string {
  const { survey, findings, audience, withheld } = disclosed;
  const { site } = survey;
  const dates = survey.outings.flatMap(({ date, retired }) => (date && !retired ? [date.slice(0, 10)] : [])).sort();
  const spacings = findings.lines.flatMap(({ midpoints }) => midpoints.flatMap(({ spacingM }) => spacingM ?? []));
  const document = {
    format: PACK_FORMAT,
    version: PACK_VERSION,
    about: 'Core elements of ISO 19115-1:2014 by their names, as JSON.',
    metadata_standard: 'ISO 19115-1:2014',
    metadata_date: terms.madeAt,
    metadata_language: 'en',
    metadata_character_set: 'utf8',
    resource_scope: 'dataset',
    title: terms.title ?? site.name,
    abstract: `Ground-resistivity readings along ${counted(findings.lines.length, 'line')} over karst, what stands out of them, and how far that can be trusted.${site.invented ? ' The site is invented: nothing here is a real place.' : ''}`,
    purpose: 'Evidence for a hazard map. It states no hazard class; what is not surveyed is not safe.',
    topic_category: 'geoscientificInformation',
    keywords: ['karst', 'ground resistivity', 'void', 'sinkhole'],
    date_of_creation: terms.madeAt,
    point_of_contact: terms.contact,
    audience: AUDIENCE_WORDS[audience],
    invented: site.invented ?? null,
    review_status: site.review_status,
    reviewer: site.reviewer ?? null,
    review_date: site.review_date ?? null,
    reference_system: 'WGS 84 longitude and latitude (EPSG:4326), longitude first',
    spatial_representation_type: 'vector',
    spatial_resolution_m: spacings.reduce<number | null>((least, each) => Math.min(least ?? each, each), null),
    geographic_bounding_boxes: layers.flatMap(({ name, bbox }) => {
      if (!bbox) return [];
      const [west, south, east, north] = bbox;
      return [{ layer: name, west, south, east, north }];
    }),
    temporal_extent: dates.length > 0 ? { from: dates[0], to: dates[dates.length - 1] } : null,
    lineage: {
      statement:
        'Readings were taken with rods along taped lines and entered as the meter showed them. Lines were fitted to fixes, tape and legs by weighted least squares on the ellipsoid. Figures were compared with readings over quiet ground at the same spacing. Two-probe figures are hints and never findings.',
      methods: METHODS,
      sources: survey.outings
        .filter(({ retired }) => !retired)
        .map(({ name, date, meter }) => ({
          outing: name,
          date: date ?? null,
          meter_serial: meter?.serial ?? null,
          meter_formula: meter?.formula ?? null,
          stated_error: meter?.stated_error ?? null,
        })),
      hookups: [...new Set(findings.lines.flatMap((line) => line.hookups))],
      searched_lines: findings.searchedLines.length,
      program: `Hollowline ${findings.provenance.programVersion}`,
      settings: findings.provenance.settings,
    },
    positional_accuracy: accuracyOf(disclosed),
    legal_constraints: terms.licence,
    use_limitations: [
      'Readings neither prove nor rule out a void. Siting, design and clearance belong to licensed practice and local codes.',
      'Outside the corridors is not surveyed, never safe.',
      ...CAUTIONS,
    ],
    withheld,
    distribution_formats: [
      'GeoJSON (RFC 7946)',
      'GeoPackage 1.3 (OGC 12-128r17)',
      'HTML',
      ...(isOutside(audience) ? [] : ['KML 2.2', 'GPX 1.1', 'CSV (RFC 4180)', 'SLD 1.0.0', 'survey JSON']),
    ],
    layers: layers.map(({ name, features }) => ({
      name,
      about: LAYER_MEANINGS[name],
      geometry: GEOMETRY_TYPES[name],
      features,
    })),
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}

const METHODS: readonly string[] = [
  'Apparent resistivity = K R with K = 2π / (1/AM − 1/AN − 1/BM + 1/BN) from the places of the electrodes.',
  'Two-probe figure = 2π a R: mostly the contact of the rods, which climbs with the spacing over ordinary ground.',
  'Ratio = figure / reference at the same spacing, hookup and, where there is one, day and wetting.',
  'Grade from ratio and z-score by the breaks in settings, with control of false discoveries along each line.',
  'Depth by depth_rule: where half of the response of uniform ground comes from above, or half the spacing.',
];
