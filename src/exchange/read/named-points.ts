import { geodesicDistanceM } from '../../position/geodesic';
import { metres, nameList } from '../../survey/wording';
import type { AssignedPoint } from './assign-places';
import { type LineDraft, lineOf } from './draft';
import { absurd, MOST_ELECTRODES } from './limits';
import { measuredElectrodes, roundMm } from './place-chainages';
import type { PlacesDrafting } from './places-drafting';
import type { PlaceVertex } from './places-file';
import { roundOff } from './sheet';

/*
 * Points that name a place of a line become fixes of it, or remote electrodes; the others are told and left out.
 */

/** Points that belong to no line are named one by one up to here. */
const UNMATCHED_TOLD = 20;
/** Chainages nearer than this are one place. */
const SAME_PLACE_M = 0.005;

type PlaceAtLine = NonNullable<AssignedPoint['match']>['at'];

export class NamedPoints {
  constructor(private readonly to: PlacesDrafting) {}

  add(points: readonly AssignedPoint[]): void {
    const byLine = new Map<string, AssignedPoint[]>();
    const remotes: AssignedPoint[] = [];
    const unmatched: AssignedPoint[] = [];
    for (const assigned of points) {
      const { match } = assigned;
      if (match === null) unmatched.push(assigned);
      else if (match.at.kind === 'remote') remotes.push(assigned);
      else {
        const line = match.lines[0] as string;
        const list = byLine.get(line);
        if (list) list.push(assigned);
        else byLine.set(line, [assigned]);
      }
    }
    for (const [line, list] of byLine) this.pointsOf(line, list);
    for (const remote of remotes) this.remote(remote);
    this.tellUnmatched(unmatched);
  }

  private pointsOf(line: string, points: readonly AssignedPoint[]): void {
    const chainageOf = this.chainagesFor(line, points);
    const placed = points.flatMap(({ point, match, from }) => {
      const chainageM = match ? chainageOf(match.at) : null;
      const inRange = chainageM !== null && absurd('chainage_m', chainageM) === null;
      const why = !inRange
        ? this.to.drawnLines.has(line)
          ? `the file draws line ${line} itself; give step_m if the point is to be placed on it`
          : `nothing says how far along line ${line} it is; give step_m`
        : from === 'map'
          ? null
          : this.againstDrawing(line, chainageM, point);
      if (inRange && why === null) return [{ point, chainageM }];
      this.to.skip(point.row, point.key, 'a place along its line', `"${point.key}" was left out: ${why}.`);
      return [];
    });
    if (placed.length === 0) return;
    const draft = lineOf(this.to.draft, line, this.to.source(placed[0]?.point.row ?? 1));
    for (const { point, chainageM } of placed) this.to.fix(draft, chainageM, point, false);
    this.plan(draft, points);
    this.tellGuesses(line, points);
  }

  /** Why a named point does not stand beside the drawing of its own line in this file; null where it may. */
  private againstDrawing(line: string, chainageM: number, { lonLat }: PlaceVertex): string | null {
    if (!this.to.drawnLines.has(line)) return null;
    const fixes = this.to.draft.lines.get(line)?.fixes ?? [];
    const there = fixes.find((fix) => Math.abs(fix.chainageM - chainageM) < SAME_PLACE_M);
    if (there) {
      const apartM = geodesicDistanceM(there.lonLat, lonLat);
      return `the drawn line ${line} has its own place at ${metres(chainageM)}, ${metres(apartM)} from this one`;
    }
    const lastM = Math.max(...fixes.map((fix) => fix.chainageM));
    if (chainageM >= 0 && chainageM <= lastM) return null;
    return `it would stand at ${metres(chainageM)}, and line ${line} as drawn reaches from 0 m to ${metres(lastM)}; give electrodes if that is wrong`;
  }

  /** How far along a line its named places are. */
  private chainagesFor(line: string, points: readonly AssignedPoint[]): (at: PlaceAtLine) => number | null {
    const layout = this.to.layoutOf(line);
    const even = layout && 'step_m' in layout ? layout : null;
    const listed = layout && 'chainages_m' in layout ? layout.chainages_m : null;
    const stepM = this.to.map?.step_m ?? even?.step_m;
    const fromM = even?.from_m ?? 0;
    const measured =
      stepM === undefined && !listed && !this.to.drawnLines.has(line) ? measuredElectrodes(points) : null;
    if (measured && measured.size > 0) this.to.measured.push(line);
    const start = points.find(({ match }) => match?.at.kind === 'start');
    const end = points.find(({ match }) => match?.at.kind === 'end');
    const spanM = start && end ? roundMm(geodesicDistanceM(start.point.lonLat, end.point.lonLat)) : null;
    const endM = even?.to_m ?? listed?.[listed.length - 1] ?? this.endBySteps(stepM) ?? spanM;
    if (endM !== null && endM === spanM && !even && !listed) this.to.measured.push(line);
    return (at) => {
      switch (at.kind) {
        case 'chainage':
          return at.chainageM;
        case 'electrode':
          if (stepM !== undefined) return roundOff(fromM + (at.electrode - 1) * stepM);
          return listed?.[at.electrode - 1] ?? measured?.get(at.electrode) ?? null;
        case 'start':
          return this.to.drawnLines.has(line) ? null : (listed?.[0] ?? fromM);
        case 'end':
          return this.to.drawnLines.has(line) ? null : endM;
        case 'remote':
          return null;
      }
    };
  }

  private endBySteps(stepM: number | undefined): number | null {
    const electrodes = this.to.map?.electrodes;
    return stepM !== undefined && electrodes !== undefined ? roundOff((electrodes - 1) * stepM) : null;
  }

  /** Electrodes at the step that the columns map gives, up to the highest that is named. */
  private plan(line: LineDraft, points: readonly AssignedPoint[]): void {
    const stepM = this.to.map?.step_m;
    if (stepM === undefined || this.to.layoutOf(line.name) !== null) return;
    const numbers = points.flatMap(({ match }) => (match?.at.kind === 'electrode' ? [match.at.electrode] : []));
    const count = this.to.map?.electrodes ?? Math.max(0, ...numbers);
    if (count < 2 || count > MOST_ELECTRODES || absurd('chainage_m', (count - 1) * stepM) !== null) return;
    line.layout = { from_m: 0, to_m: roundOff((count - 1) * stepM), step_m: stepM };
    if (this.to.map?.electrodes !== undefined) return;
    this.to.guessed(
      points[0]?.point.row ?? null,
      `electrode ${count} at most`,
      'electrodes, their number',
      `line ${line.name} was taken to have ${count} electrodes, the highest number given. Give electrodes if there are more.`,
    );
  }

  /** Once a line and a way of reading names: which names were read how. */
  private tellGuesses(line: string, points: readonly AssignedPoint[]): void {
    const groups = new Map<string, AssignedPoint[]>();
    for (const assigned of points) {
      if (assigned.from === 'map' || assigned.from === 'fields') continue;
      const list = groups.get(assigned.from);
      if (list) list.push(assigned);
      else groups.set(assigned.from, [assigned]);
    }
    for (const [pattern, group] of groups) {
      const [first] = group;
      if (!first) continue;
      const as =
        pattern === 'number' || pattern === 'electrode'
          ? 'electrodes'
          : pattern === 'start' || pattern === 'end'
            ? 'ends'
            : 'chainages';
      const names =
        group.length === 1
          ? `the name "${first.point.key}" was`
          : `${group.length} names such as "${first.point.key}" were`;
      this.to.guessed(
        first.point.row,
        first.point.key,
        `${as} of line ${line}`,
        `${names} read as ${as} of line ${line}.`,
      );
    }
  }

  private remote({ point, match, from }: AssignedPoint): void {
    if (match?.at.kind !== 'remote') return;
    const { role } = match.at;
    const names = match.lines.length > 0 ? match.lines : [...this.to.drawnLines.keys()];
    const all = names.length > 0 ? names : [...this.to.draft.lines.keys()];
    const known = all.filter((name) => this.to.draft.lines.has(name) || this.to.known.has(name));
    if (known.length === 0) {
      this.to.skip(
        point.row,
        point.key,
        'a remote electrode of a known line',
        `"${point.key}" is a remote electrode of no line that is known, and was left out.`,
      );
      return;
    }
    const source = this.to.source(point.row);
    for (const name of known)
      lineOf(this.to.draft, name, source).remotes.push({ role, position: point.position, source });
    this.to.taken += 1;
    if (from === 'map' || from === 'fields') return;
    this.to.guessed(
      point.row,
      point.key,
      `remote electrode ${role}`,
      `"${point.key}" was read as remote electrode ${role} of ${nameList(known)}.`,
    );
  }

  private tellUnmatched(points: readonly AssignedPoint[]): void {
    for (const { point, from } of points.slice(0, UNMATCHED_TOLD)) {
      const why = from === 'map' ? 'is not wanted' : 'names no place of a line';
      this.to.skip(
        point.row,
        point.key,
        'a name such as "L1 e24" or "L1 12.5 m"',
        `"${point.key}" ${why} and was left out.`,
      );
    }
    const rest = points.length - UNMATCHED_TOLD;
    if (rest <= 0) return;
    this.to.skip(
      points[UNMATCHED_TOLD]?.point.row ?? 1,
      `${rest} more`,
      'names of lines',
      `${rest} more points name no place of a line and were left out.`,
    );
  }
}
