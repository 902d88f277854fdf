import type { FigureLook } from './look';

export interface WantedLabel {
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly bold: boolean;
}

export interface PlacedLabel extends WantedLabel {
  /** Where the text starts and its baseline, from the point that it names, px. */
  readonly dx: number;
  readonly dy: number;
}

const GAP_PX = 8;
const MARK_PX = 9;

/** Puts each label beside its point where it covers no earlier one; where there is no room it lies above. */
export function placedLabels(
  wanted: readonly WantedLabel[],
  { textPx }: FigureLook,
  [widthPx, heightPx]: readonly [number, number],
  /** What should stay free: marks of features, px. */
  marks: readonly (readonly [x: number, y: number])[],
): readonly PlacedLabel[] {
  const taken: Box[] = marks.map(([x, y]) => [x - MARK_PX, y - MARK_PX, x + MARK_PX, y + MARK_PX]);
  return wanted.map((label) => {
    const width = label.words.length * textPx * 0.55;
    const offers = [
      [-width / 2, -GAP_PX],
      [GAP_PX, textPx * 0.35],
      [-GAP_PX - width, textPx * 0.35],
      [-width / 2, GAP_PX + textPx * 0.8],
      [GAP_PX, -textPx],
      [GAP_PX, textPx * 1.8],
      [-GAP_PX - width, -textPx],
      [-GAP_PX - width, textPx * 1.8],
    ] as const;
    const boxOf = ([dx, dy]: readonly [number, number]) => {
      const [x, y] = [label.x + dx, label.y + dy];
      return [x - 2, y - textPx, x + width + 2, y + textPx * 0.3] as const;
    };
    const free = offers.find((offer) => {
      const box = boxOf(offer);
      const inside = box[0] >= 0 && box[1] >= 0 && box[2] <= widthPx && box[3] <= heightPx;
      return inside && !taken.some((other) => overlap(box, other));
    });
    const [dx, dy] = free ?? offers[0];
    taken.push(boxOf([dx, dy]));
    return { ...label, dx, dy };
  });
}

type Box = readonly [number, number, number, number];
const overlap = (p: Box, q: Box): boolean => p[0] < q[2] && q[0] < p[2] && p[1] < q[3] && q[1] < p[3];
