import type { Change } from './commit';
import { type Author, addLine, correctLine } from './edits';
import { type LineId, makeId, type PathItemId } from './ids';
import { done, type Outcome, refuse } from './outcome';
import { checkItem, checkLayout, type EvenLayout, isSamePlace, type NewPathItem } from './path-checks';
import type { Fix, Line, PathItem, Position, Survey } from './survey';

/**
 * Adds a point or a leg to a line. `seed` is random and comes from the shell.
 * Refusals: `no_such_line` and those of `correctPathItem`.
 */
export function addPathItem(
  survey: Survey,
  lineId: LineId,
  item: NewPathItem,
  seed: string,
  author: Author,
): Outcome<Change> {
  const line = lineOf(survey, lineId);
  if (!line.ok) return line;
  const checked = checkItem(survey, line.value, item, null);
  if (!checked.ok) return checked;
  const id = makeId('path', seed, `${lineId}|${line.value.path.length}`);
  const label = item.kind === 'leg' ? 'Add a leg' : 'Add a point';
  return changed(line.value, label, author, { path: [...line.value.path, { ...item, id } as PathItem] });
}

/**
 * Says anew what is said of a point or leg: also by another way than before. Tapes that start at a placed point follow it.
 * Refusals: `no_such_line`, `no_such_point`, `not_a_number`, `chainage_too_far`, `not_a_bearing`, `bearing_needs_date`,
 * `distance_not_positive`, `same_place` (two tapes from one point), `base_is_itself`, `no_such_base`, `base_in_a_circle`.
 */
export function correctPathItem(
  survey: Survey,
  lineId: LineId,
  itemId: PathItemId,
  item: NewPathItem,
  author: Author,
): Outcome<Change> {
  const found = itemOf(survey, lineId, itemId);
  if (!found.ok) return found;
  const checked = checkItem(survey, found.value.line, item, itemId);
  if (!checked.ok) return checked;
  const label = item.kind === 'leg' ? 'Correct a leg' : 'Correct a point';
  return withItem(found.value.line, itemId, { ...item, id: itemId } as PathItem, label, author);
}

/**
 * Moves a placed point: it keeps its chainage and its height, and its single fixes go, since they spoke of the other
 * place (undo brings them back). Tapes that start at it follow.
 * Refusals: `no_such_line`, `no_such_point`, `not_a_number`, `not_movable` for a point that is placed from others.
 */
export function movePoint(
  survey: Survey,
  lineId: LineId,
  itemId: PathItemId,
  position: Position,
  author: Author,
): Outcome<Change> {
  const found = itemOf(survey, lineId, itemId);
  if (!found.ok) return found;
  const { line, item } = found.value;
  if (item.kind !== 'fix') {
    return refuse(
      'not_movable',
      'This point is placed by a tape or a bearing from others. Correct those, or take it out and place it anew.',
    );
  }
  if (!Number.isFinite(position.x) || !Number.isFinite(position.y)) {
    return refuse('not_a_number', 'The new place needs two coordinates.');
  }
  const { singles: _, ...kept } = item;
  const { elevation_m: elevation, height_reference: heightReference } = item.position;
  const moved: Fix = {
    ...kept,
    position: {
      ...position,
      ...(elevation === undefined ? {} : { elevation_m: elevation }),
      ...(heightReference === undefined ? {} : { height_reference: heightReference }),
    },
  };
  return withItem(line, itemId, moved, 'Move a point', author);
}

/** Takes a point or leg out of its line; it stays in the record. Refusals: `no_such_line`, `no_such_point`. */
export function retirePathItem(survey: Survey, lineId: LineId, itemId: PathItemId, author: Author): Outcome<Change> {
  const found = itemOf(survey, lineId, itemId);
  if (!found.ok) return found;
  const { line, item } = found.value;
  const label = item.kind === 'leg' ? 'Take out a leg' : 'Take out a point';
  return withItem(line, itemId, { ...item, retired: true }, label, author);
}

/**
 * Says where electrodes are planned; null = nowhere.
 * Refusals: `no_such_line`, `not_a_number`, `chainage_too_far`, `step_not_positive`, `ends_exchanged`, `too_many_planned`.
 */
export function setLayout(survey: Survey, lineId: LineId, layout: EvenLayout | null, author: Author): Outcome<Change> {
  const line = lineOf(survey, lineId);
  if (!line.ok) return line;
  const checked = layout ? checkLayout(layout) : done(null);
  if (!checked.ok) return checked;
  return changed(line.value, `Plan electrodes of ${line.value.name}`, author, { layout });
}

export interface LineToCome {
  readonly name: string;
  readonly hookup?: Line['hookup'];
  readonly layout: EvenLayout | null;
}

/**
 * Begins a line of which no point is placed yet: it has a name and what is planned. `seed` is random.
 * Refusals: `no_name`, `name_taken`, those of `setLayout`.
 */
export function startLine(
  survey: Survey,
  { name, hookup, layout }: LineToCome,
  seed: string,
  author: Author,
): Outcome<Change> {
  const checked = layout ? checkLayout(layout) : done(null);
  if (!checked.ok) return checked;
  const begun: Line = {
    id: makeId('line', seed, name.trim()),
    revised: { at: author.at, by: author.by, count: 0 },
    name,
    ...(hookup === undefined ? {} : { hookup }),
    layout,
    path: [],
    profile: [],
  };
  // A name has to be free, whether it is given or corrected.
  const named = correctLine({ ...survey, lines: [...survey.lines, begun] }, begun.id, { name }, author);
  if (!named.ok) return named;
  const line: Line = { ...begun, name: name.trim() };
  return done({ label: `Add line ${line.name}`, put: { lines: [line] } });
}

export interface DrawnLine extends LineToCome {
  /** From one end to the other; those between the ends are bends. */
  readonly fixes: readonly Pick<Fix, 'chainage_m' | 'position'>[];
}

/**
 * Adds a line with all its points at once, as it was drawn. `seed` is random.
 * Refusals: `too_few_points`, `chainage_backwards`, those of `addLine` and `setLayout`.
 */
export function addDrawnLine(
  survey: Survey,
  { name, hookup, layout, fixes }: DrawnLine,
  seed: string,
  author: Author,
): Outcome<Change> {
  const [first] = fixes;
  const last = fixes[fixes.length - 1];
  if (!first || !last || fixes.length < 2) {
    return refuse('too_few_points', 'A line needs two points at least. Tap where it begins and where it ends.');
  }
  const backwards = fixes.find(
    ({ chainage_m: chainage }, i) => i > 0 && !(chainage > (fixes[i - 1]?.chainage_m ?? Number.NaN)),
  );
  if (backwards) {
    return refuse(
      'chainage_backwards',
      `Chainages have to grow from point to point, and ${backwards.chainage_m} m does not. Correct it.`,
    );
  }
  const checked = layout ? checkLayout(layout) : done(null);
  if (!checked.ok) return checked;
  const made = addLine(
    survey,
    { name, ...(hookup === undefined ? {} : { hookup }), fixes: [first, last] },
    seed,
    author,
  );
  if (!made.ok) return made;
  const straight = made.value.put?.lines?.[0] as Line;
  const bends = fixes.slice(1, -1).map(
    (fix, i): PathItem => ({
      ...fix,
      kind: 'fix',
      corner: true,
      id: makeId('path', seed, `${straight.name}|bend ${i}`),
    }),
  );
  const [start, end] = straight.path as [PathItem, PathItem];
  return done({ ...made.value, put: { lines: [{ ...straight, layout, path: [start, ...bends, end] }] } });
}

function lineOf(survey: Survey, id: LineId): Outcome<Line> {
  const line = survey.lines.find((candidate) => candidate.id === id && !candidate.retired);
  return line ? done(line) : refuse('no_such_line', 'That line is not in this survey any more. Choose another.');
}

function itemOf(
  survey: Survey,
  lineId: LineId,
  itemId: PathItemId,
): Outcome<{ readonly line: Line; readonly item: PathItem }> {
  const line = lineOf(survey, lineId);
  if (!line.ok) return line;
  const item = line.value.path.find((candidate) => candidate.id === itemId && !candidate.retired);
  return item
    ? done({ line: line.value, item })
    : refuse('no_such_point', 'That point is not on the line any more. Choose another.');
}

function withItem(line: Line, id: PathItemId, item: PathItem, label: string, author: Author): Outcome<Change> {
  const before = line.path.find((each) => each.id === id);
  const was = before?.kind === 'fix' ? before.position : null;
  const is = item.kind === 'fix' && !item.retired ? item.position : null;
  return changed(line, label, author, {
    path: line.path.map((each) => {
      if (each.id === id) return item;
      return was && is && was !== is && each.kind === 'two_tapes' ? following(each, was, is) : each;
    }),
  });
}

/** Two tapes keep the places that they start at: one that was a point's goes where that point goes. */
function following(tapes: Extract<PathItem, { kind: 'two_tapes' }>, was: Position, is: Position): PathItem {
  const { first, second } = tapes;
  const starts = { first: isSamePlace(first, was), second: isSamePlace(second, was) };
  if (!starts.first && !starts.second) return tapes;
  return { ...tapes, first: starts.first ? is : first, second: starts.second ? is : second };
}

function changed(line: Line, label: string, author: Author, parts: Partial<Line>): Outcome<Change> {
  const revised = { ...line.revised, at: author.at, by: author.by, count: line.revised.count + 1 };
  return done({ label, put: { lines: [{ ...line, ...parts, revised }] } });
}
