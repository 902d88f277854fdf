import type { CoordinateForm } from '../../position/coordinate-format';
import type { LineId } from '../../survey/ids';

/** A place that was pointed at on the map. */
export interface PointedAt {
  readonly lon: number;
  readonly lat: number;
  /** Of the map when it was pointed at: how exactly a finger could. */
  readonly metresPerPixel: number;
}

/** A corner of a line that is being drawn. */
export interface DrawnVertex extends PointedAt {
  /** The placed point that it was snapped to. */
  readonly snappedTo: string | null;
}

/** The line that is being drawn: what stands, and where the pointer is. */
export interface Sketch {
  readonly vertices: readonly DrawnVertex[];
  readonly pointer: { readonly lon: number; readonly lat: number } | null;
  readonly finished: boolean;
}

/** What the map is asked for: a place, a line, or points to be moved. */
export type MapTask = 'place' | 'draw' | 'move';

export interface LayoutState {
  /** The line whose page is open; null = the list of lines. */
  readonly line: LineId | null;
  readonly task: MapTask | null;
  /** The last place that was pointed at for a form. */
  readonly placed: PointedAt | null;
  readonly sketch: Sketch | null;
  /** How often the last corner of the sketch was taken back. */
  readonly cornersTakenBack: number;
  /** Stakes are shown every so many metres; null = none. */
  readonly stakesM: number | null;
  readonly coordinateForm: CoordinateForm;
}

export const NO_LAYOUT: LayoutState = {
  line: null,
  task: null,
  placed: null,
  sketch: null,
  cornersTakenBack: 0,
  stakesM: null,
  coordinateForm: 'decimal_degrees',
};

const FORMS: readonly string[] = ['decimal_degrees', 'degrees_minutes', 'degrees_minutes_seconds', 'utm', 'mgrs'];

/** The form in which places are shown, from what the device remembers. */
export function coordinateFormOf(text: string | null): CoordinateForm {
  const known = text !== null && (FORMS.includes(text) || /^EPSG:\d{4,6}$/.test(text));
  return known ? (text as CoordinateForm) : NO_LAYOUT.coordinateForm;
}
