import { FEATURE_TYPES, type FeatureType, featureTypeOf } from '../survey/feature-type';
import type { MapEngine } from './map-engine';
import type { Palette } from './palette';

/*
 * Our own symbols of karst features, each told from the others by its shape alone: what takes water points down, what
 * gives it points up, what was never seen on the ground has a broken outline.
 */

/** A path in a square of 24; `fill` and `stroke` say what it is painted with, ink or paper. */
export interface SymbolPart {
  readonly d: string;
  readonly fill?: 'ink' | 'paper';
  readonly stroke?: 'ink' | 'paper';
  readonly width?: number;
  readonly dash?: readonly number[];
}

export type SymbolName = FeatureType | 'other';

const RING = 'M12 4a8 8 0 1 0 0 16a8 8 0 1 0 0-16z';
const ink = (d: string, width = 2.6): SymbolPart => ({ d, stroke: 'ink', width });
const solid = (d: string): SymbolPart => ({ d, fill: 'ink', stroke: 'ink', width: 1 });
const hollow = (d: string, width = 2.6): SymbolPart => ({ d, fill: 'paper', stroke: 'ink', width });

export const SYMBOLS: Readonly<Record<SymbolName, readonly SymbolPart[]>> = {
  sinkhole_solution: [hollow(RING), solid('M12 9.5a2.5 2.5 0 1 0 0 5a2.5 2.5 0 1 0 0-5z')],
  sinkhole_cover_collapse: [solid(RING)],
  sinkhole_cover_subsidence: [hollow(RING), solid('M4 12a8 8 0 0 0 16 0z')],
  sinkhole_unknown: [hollow(RING)],
  depression_unverified: [{ d: RING, fill: 'paper', stroke: 'ink', width: 2.6, dash: [3.6, 2.7] }],
  cave_entrance: [solid('M3 21V12a9 9 0 0 1 18 0v9z'), { d: 'M9 21v-7a3 3 0 0 1 6 0v7z', fill: 'paper' }],
  shaft: [solid('M3 4h18L12 21z')],
  swallow_hole: [ink('M12 2v11', 3), solid('M6.5 9h11L12 15z'), ink('M3 14c0 9 18 9 18 0')],
  sinking_stream: [ink('M2 9c3-5 6 5 9 0s4-2 5 1'), solid('M17 10a4.5 4.5 0 1 0 .1 9a4.5 4.5 0 1 0-.1-9z')],
  losing_reach: [
    ink('M1.5 7c3.5-4 7 4 10.5 0s7 4 10.5 0'),
    ink('M8 11v9M16 11v9'),
    solid('M5 16h6l-3 5zM13 16h6l-3 5z'),
  ],
  spring: [ink('M12 10v11', 3), solid('M6.5 9L12 2l5.5 7z'), ink('M3 12c0 11 18 11 18 0')],
  estavelle: [ink('M12 6v12', 3), solid('M6.5 8L12 1.5 17.5 8z'), solid('M6.5 16h11L12 22.5z')],
  karst_window: [hollow('M4 4h16v16H4z'), ink('M4 12c3-4 5 4 8 0s5 4 8 0')],
  dry_valley: [ink('M3 4l9 16 9-16', 3), ink('M12 3v8', 2.4)],
  subsidence_damage: [hollow('M4 21V10l8-7 8 7v11z'), ink('M13 7l-3 5 4 2-3 7', 2.2)],
  geophysical_anomaly: [
    { d: 'M12 2l10 10-10 10L2 12z', fill: 'paper', stroke: 'ink', width: 2.6, dash: [3.4, 2.3] },
    solid('M12 10.2a1.8 1.8 0 1 0 0 3.6a1.8 1.8 0 1 0 0-3.6z'),
  ],
  other: [hollow('M6 6h12v12H6z'), ink('M6 6l12 12', 2.2)],
};

/** Drawn across the symbol of a feature that was rejected. */
export const REJECTED: readonly SymbolPart[] = [
  { d: 'M2 22L22 2', stroke: 'paper', width: 6 },
  { d: 'M2 22L22 2', stroke: 'ink', width: 2 },
];

/** The symbol of a type as it is written in the record. */
export const symbolOf = (type: string): SymbolName => featureTypeOf(type) ?? 'other';

/** The name of its picture on the map. */
export const symbolImage = (type: string, status: string): string =>
  `feature-${symbolOf(type)}${status === 'rejected' ? '-rejected' : ''}`;

const SIZE_PX = 24;
/** Pixels of the picture to a pixel of the screen. */
const RATIO = 2;
/** Paper round the ink, so that a symbol stands out from a stroke behind it. */
const HALO = 3;

/** Draws every symbol in the colours of the look and hands it to the map; a later look replaces it. */
export function drawFeatureSymbols(engine: MapEngine, { ink: inkColour, paper }: Pick<Palette, 'ink' | 'paper'>): void {
  if (!engine.addImage || !engine.hasImage || !engine.updateImage) return;
  for (const name of [...FEATURE_TYPES, 'other'] as const) {
    for (const isRejected of [false, true]) {
      const picture = pictureOf([...SYMBOLS[name], ...(isRejected ? REJECTED : [])], inkColour, paper);
      if (!picture) return;
      const id = `feature-${name}${isRejected ? '-rejected' : ''}`;
      if (engine.hasImage(id)) engine.updateImage(id, picture);
      else engine.addImage(id, picture, { pixelRatio: RATIO });
    }
  }
}

function pictureOf(parts: readonly SymbolPart[], inkColour: string, paper: string): ImageData | null {
  const room = SIZE_PX + 2 * HALO;
  const canvas = document.createElement('canvas');
  canvas.width = room * RATIO;
  canvas.height = room * RATIO;
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (!pen) return null;
  pen.setTransform(RATIO, 0, 0, RATIO, HALO * RATIO, HALO * RATIO);
  pen.lineJoin = 'round';
  const colour = { ink: inkColour, paper };
  for (const { d, width = 0 } of parts) {
    pen.strokeStyle = paper;
    pen.lineWidth = width + HALO;
    pen.stroke(new Path2D(d));
  }
  for (const { d, fill, stroke, width = 0, dash = [] } of parts) {
    const path = new Path2D(d);
    if (fill) {
      pen.fillStyle = colour[fill];
      pen.fill(path);
    }
    if (stroke) {
      pen.setLineDash([...dash]);
      pen.strokeStyle = colour[stroke];
      pen.lineWidth = width;
      pen.stroke(path);
    }
  }
  return pen.getImageData(0, 0, canvas.width, canvas.height);
}
