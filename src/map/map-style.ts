import type { LayerSpecification, StyleSpecification } from 'maplibre-gl';
import { withChanges } from './change-layers';
import { karstGroundLayers, karstSymbolLayers } from './feature-layers';
import { hereLayers } from './here-layers';
import { laidOutLayers } from './laid-out-layers';
import type { MapLook } from './map-look';
import { mapSources } from './map-sources';
import { nameLayers } from './name-layers';
import { nextReadingLayers } from './next-reading-layers';
import { paperLayers } from './paper-layers';
import { pointLayers } from './point-layers';
import { selectionLayers } from './selection-layers';
import { strokeLayers } from './stroke-layers';
import { corridorLayers, zoneLayers } from './zone-layers';

export type { SpacingChoice } from './map-look';

export const mapStyle = (look: MapLook): StyleSpecification => ({
  version: 8,
  sources: mapSources(),
  layers: mapLayers(look),
});

/** Layers from the ground up. Pure: the same look gives the same layers. */
export function mapLayers(look: MapLook): LayerSpecification[] {
  const { palette, theme } = look;
  return [
    ...paperLayers(palette),
    ...corridorLayers(palette),
    ...karstGroundLayers(palette),
    ...zoneLayers(theme),
    {
      id: 'lines',
      type: 'line',
      source: 'lines',
      layout: { 'line-join': 'miter' },
      paint: { 'line-color': palette.ink, 'line-width': 1.2 },
    },
    ...withChanges(strokeLayers(look), look.comparing === true),
    ...pointLayers(look),
    ...karstSymbolLayers(palette),
    ...selectionLayers(palette),
    ...laidOutLayers(palette),
    ...nextReadingLayers(palette),
    ...nameLayers(look),
    ...hereLayers(palette),
  ];
}
