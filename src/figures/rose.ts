import type { FigureLook } from './look';
import { element, figureText, type SvgNode } from './svg';

export interface RoseData {
  /** Counts of axes by direction in equal classes from north, 0 to 180°. */
  readonly classes: readonly { readonly fromDeg: number; readonly toDeg: number; readonly count: number }[];
  /** Mean axis, degrees from true north; null where there is none. */
  readonly meanDeg: number | null;
  readonly summary: string;
}

/** Room for the letters and numbers round the circle, in lines of text. */
const ROUND_LINES = 2.2;
const RINGS = 2;

/**
 * A rose of axes: each class is a petal on both sides of the middle, as an axis has no direction. The area of a petal
 * goes with its count, so its length with the square root of it; the rings say how many. North is up.
 */
export function rose({ classes, meanDeg, summary }: RoseData, look: FigureLook): string {
  const sizePx = Math.min(look.widthPx, 360);
  const middle = sizePx / 2;
  const radiusPx = middle - ROUND_LINES * look.textPx;
  const most = Math.max(1, ...classes.map(({ count }) => count));
  const lengthOf = (count: number): number => radiusPx * Math.sqrt(count / most);
  const at = (deg: number, lengthPx: number): readonly [number, number] => [
    middle + lengthPx * Math.sin((deg * Math.PI) / 180),
    middle - lengthPx * Math.cos((deg * Math.PI) / 180),
  ];
  const text = (words: string, [x, y]: readonly [number, number], anchor = 'middle'): SvgNode =>
    element(
      'text',
      {
        x,
        y: y + look.textPx * 0.35,
        'text-anchor': anchor,
        'font-size': look.textPx,
        'font-family': look.font,
        fill: look.ink,
      },
      [words],
    );
  const petals = classes
    .filter(({ count }) => count > 0)
    .flatMap(({ fromDeg, toDeg, count }) =>
      [0, 180].map((turn) => {
        const lengthPx = lengthOf(count);
        const points = [at(fromDeg + turn, lengthPx), at(toDeg + turn, lengthPx)].map(coordinates);
        const d = `M${coordinates([middle, middle])}L${points[0]}A${px(lengthPx)} ${px(lengthPx)} 0 0 1 ${points[1]}Z`;
        const title = `${fromDeg}° to ${toDeg}°: ${count}`;
        return element('path', { d, fill: look.rule, stroke: look.ink, 'stroke-width': 1 }, [
          element('title', {}, [title]),
        ]);
      }),
    );
  const ringCounts = most === 1 ? [1] : Array.from({ length: RINGS }, (_, i) => Math.ceil((most * (i + 1)) / RINGS));
  const rings = ringCounts.map((count) =>
    element('circle', {
      cx: middle,
      cy: middle,
      r: lengthOf(count),
      fill: 'none',
      stroke: look.inkSoft,
      'stroke-width': 1,
      'stroke-dasharray': '2 3',
    }),
  );
  const ringWords = ringCounts.map((count) => {
    const [x, y] = at(135, lengthOf(count));
    return text(String(count), [x + 3, y + 3], 'start');
  });
  const mean =
    meanDeg === null
      ? []
      : [
          element('path', {
            d: `M${coordinates(at(meanDeg, radiusPx + 6))}L${coordinates(at(meanDeg + 180, radiusPx + 6))}`,
            stroke: look.accent,
            'stroke-width': 2.5,
            'stroke-dasharray': '7 3',
          }),
        ];
  const letters = (
    [
      ['N', 0],
      ['E', 90],
      ['S', 180],
      ['W', 270],
    ] as const
  ).map(([letter, deg]) => text(letter, at(deg, radiusPx + 1.3 * look.textPx)));
  const paper = look.paintPaper ? [element('rect', { width: sizePx, height: sizePx, fill: look.paper })] : [];
  return figureText({
    widthPx: sizePx,
    heightPx: sizePx,
    title: 'Directions of long axes',
    summary,
    children: [...paper, ...petals, ...rings, ...mean, ...ringWords, ...letters],
  });
}

const px = (value: number): string => String(Math.round(value * 100) / 100 || 0);
const coordinates = ([x, y]: readonly [number, number]): string => `${px(x)} ${px(y)}`;
