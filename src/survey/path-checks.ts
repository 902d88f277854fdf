import type { LineId, PathItemId } from './ids';
import { done, type Outcome, refuse } from './outcome';
import type { Line, PathItem, Position, Survey } from './survey';

type WithoutId<T> = T extends unknown ? Omit<T, 'id' | 'retired'> : never;

/** What is said of a point or leg of a line; its id comes when it is added and stays when it is corrected. */
export type NewPathItem = WithoutId<PathItem>;

/** Planned electrodes, evenly. */
export interface EvenLayout {
  readonly from_m: number;
  readonly to_m: number;
  readonly step_m: number;
}

/** As the record allows. */
const FARTHEST_CHAINAGE_M = 100_000;
const MOST_PLANNED = 10_000;

/** Whether two positions were entered as one place. */
export const isSamePlace = (p: Position, q: Position): boolean => p.x === q.x && p.y === q.y && p.crs === q.crs;

/**
 * Whether electrodes can be planned so. Refusals: `not_a_number`, `chainage_too_far`, `step_not_positive`, `ends_exchanged`,
 * `too_many_planned`.
 */
export function checkLayout({ from_m: from, to_m: to, step_m: step }: EvenLayout): Outcome<null> {
  if (![from, to, step].every(Number.isFinite)) {
    return refuse('not_a_number', 'Say from where to where and every how many metres, in numbers.');
  }
  if (Math.max(Math.abs(from), Math.abs(to)) > FARTHEST_CHAINAGE_M) return tooFar();
  if (!(step > 0)) {
    return refuse('step_not_positive', 'The distance from electrode to electrode has to be more than 0 m.');
  }
  if (!(to > from)) {
    return refuse('ends_exchanged', 'The line has to end farther along the tape than it begins. Exchange the two.');
  }
  if ((to - from) / step >= MOST_PLANNED) {
    return refuse('too_many_planned', `That would be more than ${MOST_PLANNED} electrodes. Take a longer step.`);
  }
  return done(null);
}

const tooFar = (): Outcome<never> =>
  refuse('chainage_too_far', 'Nobody tapes a hundred kilometres. Give the chainage in metres along the line.');

/** Whether a line can have such a point or leg; `own`: the one that it replaces. Refusals: see `correctPathItem`. */
export function checkItem(survey: Survey, line: Line, item: NewPathItem, own: PathItemId | null): Outcome<null> {
  const chainage = item.kind === 'leg' ? item.from_chainage_m : item.chainage_m;
  if (!Number.isFinite(chainage)) {
    return refuse('not_a_number', 'Say how far along the line the point is, in metres of the tape.');
  }
  if (Math.abs(chainage) > FARTHEST_CHAINAGE_M) return tooFar();
  switch (item.kind) {
    case 'fix':
      return checkPosition(item.position);
    case 'leg':
      if (!(item.distance_m > 0 && Number.isFinite(item.distance_m))) return notPositive();
      return checkBearing(item);
    case 'bearing': {
      const position = checkPosition(item.position);
      return position.ok ? checkBearing(item) : position;
    }
    case 'two_tapes': {
      if (!(item.first_distance_m > 0 && item.second_distance_m > 0)) return notPositive();
      if (!Number.isFinite(item.first_distance_m + item.second_distance_m)) return notPositive();
      const { first, second } = item;
      if (isSamePlace(first, second)) {
        return refuse('same_place', 'Both tapes start at one point. Choose a second point some metres away.');
      }
      const places = [checkPosition(first), checkPosition(second)];
      return places.find(({ ok }) => !ok) ?? done(null);
    }
    case 'offset':
      return checkOffset(survey, line, item, own);
  }
}

function checkPosition({ x, y }: Position): Outcome<null> {
  return Number.isFinite(x) && Number.isFinite(y)
    ? done(null)
    : refuse('not_a_number', 'A point needs two coordinates.');
}

const notPositive = (): Outcome<never> =>
  refuse('distance_not_positive', 'A taped distance has to be more than 0 m. Correct it.');

function checkBearing({
  bearing_deg: bearing,
  bearing_reference: reference,
  date,
}: Pick<Extract<NewPathItem, { kind: 'leg' }>, 'bearing_deg' | 'bearing_reference' | 'date'>): Outcome<null> {
  if (!(bearing >= -360 && bearing <= 360)) {
    return refuse('not_a_bearing', `A bearing goes from 0° to 360°, and this one says ${bearing}°. Correct it.`);
  }
  if (reference === 'magnetic' && !date) {
    return refuse('bearing_needs_date', 'A compass bearing needs its day, since magnetic north moves. Add the date.');
  }
  return done(null);
}

function checkOffset(
  survey: Survey,
  line: Line,
  item: Extract<NewPathItem, { kind: 'offset' }>,
  own: PathItemId | null,
): Outcome<null> {
  if (![item.base_chainage_m, item.offset_right_m].every(Number.isFinite)) {
    return refuse('not_a_number', 'Say at which chainage of the other line, and how many metres beside it.');
  }
  if (item.base_line === line.id) {
    return refuse('base_is_itself', 'A point is placed beside another line, not beside its own. Choose another.');
  }
  if (!survey.lines.some(({ id, retired }) => id === item.base_line && !retired)) {
    return refuse('no_such_base', 'The other line is not in this survey any more. Choose another.');
  }
  return leadsBack(survey, item.base_line, line.id, own)
    ? refuse(
        'base_in_a_circle',
        'The other line is itself placed beside this one, so neither would have a place. Choose another.',
      )
    : done(null);
}

/** Whether a line hangs on another by offsets, however many lines lie between. */
function leadsBack(survey: Survey, from: LineId, to: LineId, except: PathItemId | null): boolean {
  const seen = new Set<LineId>();
  const open: LineId[] = [from];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    if (at === to) return true;
    if (seen.has(at)) continue;
    seen.add(at);
    for (const item of survey.lines.find(({ id }) => id === at)?.path ?? []) {
      if (item.kind === 'offset' && !item.retired && item.id !== except) open.push(item.base_line);
    }
  }
  return false;
}
