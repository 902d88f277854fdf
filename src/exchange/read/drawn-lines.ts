import { counted, metres } from '../../survey/wording';
import type { AssignedLine } from './assign-places';
import { lineOf } from './draft';
import { absurd, MOST_ELECTRODES } from './limits';
import { chainagesAlong, chainagesOfLayout } from './place-chainages';
import type { Layout, PlacesDrafting } from './places-drafting';
import type { PlaceLine } from './places-file';
import { roundOff } from './sheet';

/*
 * Drawn lines and tracks become lines with a fix at every vertex. Chainages come from the electrodes that are known along
 * the line, where the vertices are those electrodes or the two ends, else they are measured from the first place on.
 */

export class DrawnLines {
  constructor(private readonly to: PlacesDrafting) {}

  add({ drawn, line, from }: AssignedLine): void {
    const { row, key, vertices, kind } = drawn;
    if (line === null) {
      const why = kind === 'outline' ? 'the edge of an area, which is no line of a survey' : 'not wanted';
      this.to.skip(row, key, 'a line', `"${key}" is ${why}, and was left out.`);
      return;
    }
    if (vertices.length > MOST_ELECTRODES) {
      this.to.skip(
        row,
        key,
        `a line of ${MOST_ELECTRODES} places at most`,
        `"${key}" has ${vertices.length} places, more than a line of a survey has, and was left out. Keep the part that runs along the line, or only its bends.`,
      );
      return;
    }
    const along = chainagesAlong(drawn);
    const lengthM = along.chainagesM[along.chainagesM.length - 1] ?? 0;
    if (lengthM < 0.01) {
      this.to.skip(
        row,
        key,
        'a line with a length',
        `"${key}" has all its places in one spot, so it is no line and was left out.`,
      );
      return;
    }
    if (absurd('chainage_m', lengthM) !== null) {
      this.to.skip(
        row,
        key,
        'a line of 100 km at most',
        `"${key}" is ${(lengthM / 1000).toFixed(0)} km long, so it is no line of a survey and was left out.`,
      );
      return;
    }
    const electrodes = this.electrodesAlong(line, drawn, lengthM);
    if (electrodes === 'refused') return;
    const isMeasured = !electrodes?.chainagesM;
    const chainagesM = electrodes?.chainagesM ?? along.chainagesM;
    if (isMeasured && this.isPlacedOtherwise(line, chainagesM)) {
      this.to.skip(
        row,
        key,
        'a line that is not placed yet',
        `line ${line} has placed points of its own, and "${key}" does not say at which chainages its places are; it was left out.`,
      );
      return;
    }
    if (from === 'known') this.to.guessed(row, key, line, `"${key}" was taken for line ${line}.`);
    if (isMeasured) this.to.measured.push(line);
    const into = lineOf(this.to.draft, line, this.to.source(row));
    if (electrodes?.layout) into.layout = electrodes.layout;
    vertices.forEach((vertex, i) => {
      this.to.fix(into, chainagesM[i] as number, vertex, kind === 'track');
    });
    if (kind === 'track' && vertices.some(({ position }) => typeof position.elevation_m === 'number')) {
      this.to.notes.skippedOnce(
        'heights of tracks',
        { row, column: 'ele' },
        'heights of a track',
        'heights of the ground',
        `${this.to.notes.label}: the heights along tracks were kept beside their places and not used, since a receiver's height jumps by metres from one place to the next.`,
      );
    }
    this.to.drawnLines.add(line);
  }

  /** Chainages where the electrodes along a line are known and its vertices are those electrodes, or the two ends. */
  private electrodesAlong(
    line: string,
    { vertices, key, row }: PlaceLine,
    lengthM: number,
  ): { readonly chainagesM: readonly number[] | null; readonly layout: Layout | null } | 'refused' | null {
    const { step_m: stepM, electrodes } = this.to.map ?? {};
    const layout = this.to.layoutOf(line);
    if (stepM === undefined) {
      const chainagesM = layout && chainagesOfLayout(layout);
      if (!chainagesM || chainagesM.length < 2) return null;
      if (vertices.length === chainagesM.length) return { chainagesM, layout: null };
      const ends = [chainagesM[0] as number, chainagesM[chainagesM.length - 1] as number];
      return vertices.length === 2 ? { chainagesM: ends, layout: null } : null;
    }
    const count = electrodes ?? Math.round(lengthM / stepM) + 1;
    const toM = roundOff((count - 1) * stepM);
    if (count < 2 || count > MOST_ELECTRODES || absurd('chainage_m', toM) !== null) {
      this.to.notes.fault(
        { row, column: 'step_m' },
        String(stepM),
        'a step that fits the line',
        `${this.to.notes.label}: ${counted(count, 'electrode')} at ${stepM} m do not fit "${key}", which is ${metres(lengthM)} long. Correct step_m.`,
      );
      return 'refused';
    }
    if (electrodes === undefined) {
      this.to.guessed(
        row,
        `${lengthM.toFixed(1)} m long`,
        'electrodes, their number',
        `line ${line} was taken to have ${count} electrodes, ${toM} m at ${stepM} m, since it is ${lengthM.toFixed(1)} m long. Give electrodes if it has more or fewer.`,
      );
    }
    const planned = { from_m: 0, to_m: toM, step_m: stepM };
    if (vertices.length === count) {
      return { chainagesM: vertices.map((_, i) => roundOff(i * stepM)), layout: planned };
    }
    return { chainagesM: vertices.length === 2 ? [0, toM] : null, layout: planned };
  }

  /** Whether a line has fixes that these would not be the same as, or stand beside in their order. */
  private isPlacedOtherwise(line: string, chainagesM: readonly number[]): boolean {
    if ((this.to.draft.lines.get(line)?.fixes.length ?? 0) > 0) return true;
    const fixes = (this.to.known.get(line)?.path ?? []).flatMap((item) =>
      item.kind === 'fix' && !item.retired ? [item] : [],
    );
    const own = new Set(fixes.flatMap((fix) => (fix.position.source === this.to.format ? [fix.chainage_m] : [])));
    // The same file again: each of its chainages is there already.
    return fixes.length > 0 && !chainagesM.every((chainageM) => own.has(chainageM));
  }
}
