import type { WorldNumbers } from '../../position/picture-fit';
import { done, type Outcome, refuse } from '../../survey/outcome';

/** Endings of world files, by the picture that they belong to; `.wld` goes with any. */
const WORLD_NAME = /\.(?:jgw|jpgw|jpegw|pgw|pngw|wpw|webpw|tfw|wld)$/i;
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;

export const isWorldFileName = (name: string): boolean => WORLD_NAME.test(name);

/**
 * A world file: six numbers, one a line, in the order x per column, y per column, x per row, y per row, x and y of the
 * centre of the first pixel. It does not say its coordinate system. Decimal commas are taken.
 * Refusals: `not_six_numbers`, `flat_picture`.
 */
export function readWorldFile(text: string): Outcome<WorldNumbers> {
  const lines = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .map((line) => line.trim().replace(',', '.'))
    .filter((line) => line !== '');
  if (lines.length !== 6 || !lines.every((line) => NUMBER.test(line) && Number.isFinite(Number(line)))) {
    return refuse('not_six_numbers', 'A world file has six lines with one number on each. This one has not.');
  }
  const [xPerColumn, yPerColumn, xPerRow, yPerRow, xOfFirst, yOfFirst] = lines.map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  if (xPerColumn * yPerRow - yPerColumn * xPerRow === 0) {
    return refuse('flat_picture', 'The world file gives its pixels no area, so the picture cannot be laid anywhere.');
  }
  return done({ xPerColumn, yPerColumn, xPerRow, yPerRow, xOfFirst, yOfFirst });
}
