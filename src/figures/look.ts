import table from '../../styles/ramp.json' with { type: 'json' };
import type { MarkKey } from './mark-key';

/** Strokes of a page theme; files use those of paper by day. */
export type FigureTheme = keyof typeof table.stroke;

/** How a figure is drawn. Colours are anything that an SVG attribute takes. */
export interface FigureLook {
  /** Width of the figure; its text keeps its size, so a wider figure has more room. */
  readonly widthPx: number;
  /** Size of all text. */
  readonly textPx: number;
  readonly font: string;
  readonly ink: string;
  readonly inkSoft: string;
  readonly rule: string;
  readonly paper: string;
  readonly accent: string;
  readonly stroke: Readonly<Record<MarkKey, string>>;
  /** Resistivity, low to high. */
  readonly resistivity: readonly string[];
  /** A file has to bring its own paper along; a page has one. */
  readonly paintPaper: boolean;
}

/** Fits a phone held upright; at a desk it is the width of the margin. */
const PAGE_WIDTH_PX = 360;

/** A look that takes colours and type from the page it stands in, through its custom properties. */
export function pageLook(theme: FigureTheme): FigureLook {
  return {
    widthPx: PAGE_WIDTH_PX,
    textPx: theme === 'sunlight' ? 16 : 14,
    font: 'var(--humanist)',
    ink: 'var(--ink)',
    inkSoft: 'var(--ink-soft)',
    rule: 'var(--rule-strong)',
    paper: 'var(--paper)',
    accent: 'var(--accent)',
    stroke: table.stroke[theme],
    resistivity: table.resistivity[theme],
    paintPaper: false,
  };
}

/** A look that needs nothing around it: the colours of paper by day (as in styles/tokens.css), written out. */
export function fileLook(widthPx = 520): FigureLook {
  return {
    widthPx,
    textPx: 14,
    font: 'Optima, Candara, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif',
    ink: '#2b2620',
    inkSoft: '#5c5346',
    rule: '#8b8069',
    paper: '#fbf7ec',
    accent: '#5b3a8c',
    stroke: table.stroke.light,
    resistivity: table.resistivity.light,
    paintPaper: true,
  };
}
