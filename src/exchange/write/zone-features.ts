import ramp from '../../../styles/ramp.json';
import type { Findings, NextReading, Range95, ZoneFinding } from '../../findings';
import { coordinate } from './coordinate';
import type { LayerFeature, LayerValue } from './layer-collection';
import { decimals, feature } from './layer-feature';
import type { Projected } from './projected';
import { zoneArea } from './zone-area';

/** The zones of a survey, coloured by verdict; one whose footprint has no area is left out of the layer. */
export function zoneFeatures(findings: Findings): LayerFeature[] {
  const lines = new Map(findings.lines.map((line) => [line.lineId, line]));
  const nameOf = (id: ZoneFinding['lines'][number]): string => lines.get(id)?.name ?? id;
  return findings.zones.flatMap((zone) => {
    const area = zoneArea(zone, lines);
    if (area.coordinates.length === 0) return [];
    const colour = ramp.zone.light[zone.verdict];
    return [
      feature(zone.key, area, {
        name: zone.name,
        lines: zone.lines.map(nameOf).join(';'),
        verdict: zone.verdict,
        basis: zone.basis,
        figure_kind: zone.figureKind,
        chainages_m:
          zone.crossings.map(({ lineId, chainageM }) => `${nameOf(lineId)} ${at(chainageM)}`).join(';') || null,
        peak_ratio: decimals(zone.peakRatio, 4),
        peak_ratio_standard_error: decimals(zone.peakRatioStandardError, 4),
        highs: zone.highs,
        lows: zone.lows,
        ...range('depth', 'm', zone.depthM),
        depth_basis: zone.depthM === null ? 'none' : zone.basis === 'search' ? 'fit' : 'depth_rule',
        ...range('radius', 'm', zone.radiusM),
        chance_of_no_void: decimals(zone.chanceOfNoVoid, 4),
        ...range('trend', 'deg', zone.trendDeg),
        midpoints: zone.midpoints.length,
        readings: zone.readingCount,
        line_count: zone.lines.length,
        days: zone.outings.length,
        doubts: zone.doubts.join(';'),
        meaning: zone.paragraph,
        stroke: colour,
        'stroke-width': zone.figureKind === 'two_probe' ? 1 : 2,
        fill: colour,
        'fill-opacity': zone.figureKind === 'two_probe' ? 0.08 : 0.25,
      }),
    ];
  });
}

const at = ({ best, low95, high95 }: Range95): string =>
  `${best === null ? '' : `${Number(best.toFixed(2))} `}(${Number(low95.toFixed(2))} to ${Number(high95.toFixed(2))})`;

function range(name: string, unit: string, value: Range95 | null): Record<string, LayerValue> {
  return {
    [`${name}_${unit}`]: decimals(value?.best ?? null, 2),
    [`${name}_low_95_${unit}`]: decimals(value?.low95 ?? null, 2),
    [`${name}_high_95_${unit}`]: decimals(value?.high95 ?? null, 2),
  };
}

/** The readings that are proposed next, as stakes. */
export function nextReadingFeatures(findings: Findings, projected: Projected | null): LayerFeature[] {
  const names = new Map<string, string>(findings.lines.map(({ lineId, name }) => [lineId, name]));
  const zones = new Map<string, string>(findings.zones.map(({ key, name }) => [key, name]));
  return findings.nextReadings.map((next: NextReading, i) =>
    feature(
      next.key,
      { type: 'Point', coordinates: [...coordinate(next)] },
      {
        rank: i + 1,
        kind: next.kind,
        zone: zones.get(next.zone) ?? null,
        line: names.get(next.lineId) ?? null,
        chainage_m: decimals(next.chainageM, 3),
        spacing_m: decimals(next.spacingM, 3),
        hookup: next.hookup,
        probes_m: next.probesM.map((probe) => Number(probe.toFixed(3))).join(';') || null,
        ratio_if_void: decimals(next.expected.void, 3),
        ratio_if_contact: decimals(next.expected.contact, 3),
        ratio_if_uneven_soil: decimals(next.expected.uneven_soil, 3),
        separation_standard_errors: decimals(next.separation, 1),
        meaning: next.sentence,
        ...(projected?.columns(next.lon, next.lat) ?? {}),
        'marker-color': ramp.zone.light.unresolved,
        'marker-size': 'small',
      },
    ),
  );
}
