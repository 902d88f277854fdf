/** Colours of the map that are not findings. They live in the style sheet, so that page and map cannot differ. */
export interface Palette {
  readonly paper: string;
  readonly ink: string;
  readonly quiet: string;
  readonly grid: string;
  readonly gridMajor: string;
  readonly contour: string;
  readonly contourIndex: string;
  readonly corridor: string;
  readonly casing: string;
  readonly accent: string;
}

const PROPERTY: Record<keyof Palette, string> = {
  paper: '--map-paper',
  ink: '--ink',
  quiet: '--map-quiet',
  grid: '--map-grid',
  gridMajor: '--map-grid-major',
  contour: '--map-contour',
  contourIndex: '--map-contour-index',
  corridor: '--map-corridor',
  casing: '--map-casing',
  accent: '--accent',
};

/** Reads the palette that the style sheet gives an element under the present theme. */
export function readPalette(element: Element): Palette {
  const style = getComputedStyle(element);
  const read = (key: keyof Palette) => style.getPropertyValue(PROPERTY[key]).trim();
  return {
    paper: read('paper'),
    ink: read('ink'),
    quiet: read('quiet'),
    grid: read('grid'),
    gridMajor: read('gridMajor'),
    contour: read('contour'),
    contourIndex: read('contourIndex'),
    corridor: read('corridor'),
    casing: read('casing'),
    accent: read('accent'),
  };
}
