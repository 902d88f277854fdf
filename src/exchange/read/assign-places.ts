import { LineNames, matchNames, type Named, type NameGuess, type PlaceAt } from './match-names';
import type { PlaceLine, PlacePoint, PlacesFile } from './places-file';
import type { FilePlaces, NamedPlace } from './places-map';

/*
 * What every point and line of a file of places is taken for: as the columns map says, else as its name does. A person
 * sees this before anything is taken, and corrects it by the key of the point or line.
 */

export interface AssignedPoint {
  readonly point: PlacePoint;
  /** Null when it belongs to no line. */
  readonly match: { readonly lines: readonly string[]; readonly at: PlaceAt } | null;
  readonly from: 'map' | NameGuess['pattern'] | 'nothing';
  readonly sure: boolean;
}

export interface AssignedLine {
  readonly drawn: PlaceLine;
  /** Name of the line that it becomes; null when it becomes none. */
  readonly line: string | null;
  readonly from: 'map' | 'name' | 'file' | 'known' | 'nothing';
}

export interface AssignedPlaces {
  readonly points: readonly AssignedPoint[];
  readonly lines: readonly AssignedLine[];
}

/**
 * @param known names of the lines that other tables or the survey have
 * @param fallback a name for tracks without one: that of the file
 */
export function assignPlaces(
  { points, lines }: PlacesFile,
  known: readonly string[],
  fallback: string,
  map: FilePlaces | null,
): AssignedPlaces {
  const said = new Map(Object.entries(map?.names ?? {}));
  const assignedLines = assignLines(lines, known, fallback, said);
  const own = assignedLines.flatMap(({ line }) => (line === null ? [] : [line]));
  const stated = [...said.values()].flatMap((place) => (place?.line === undefined ? [] : [place.line]));
  const names = new LineNames([...new Set([...known, ...own, ...stated])]);
  const named: Named[] = points.filter(({ key }) => !said.has(key));
  const guesses = matchNames(named, names);
  return {
    lines: assignedLines,
    points: points.map((point): AssignedPoint => {
      const place = said.get(point.key);
      if (place !== undefined) return { point, match: place && matchOf(place), from: 'map', sure: true };
      const guess = guesses.get(point.key);
      if (!guess) return { point, match: null, from: 'nothing', sure: true };
      return {
        point,
        match: { lines: guess.lines, at: guess.at },
        from: guess.pattern,
        sure: guess.certainty === 'sure',
      };
    }),
  };
}

function assignLines(
  lines: readonly PlaceLine[],
  known: readonly string[],
  fallback: string,
  said: ReadonlyMap<string, NamedPlace | null>,
): readonly AssignedLine[] {
  const knownNames = new LineNames(known);
  const taken = new Set<string>();
  return lines.map((drawn): AssignedLine => {
    const place = said.get(drawn.key);
    if (place !== undefined) {
      const line = place?.line ?? null;
      if (line !== null) taken.add(line);
      return { drawn, line, from: 'map' };
    }
    if (drawn.kind === 'outline') return { drawn, line: null, from: 'nothing' };
    const name = drawn.fields.line?.trim() || drawn.name;
    const like = name === null ? null : knownNames.find(name);
    const base = like?.name ?? name ?? fallback;
    let line = base;
    for (let n = 2; taken.has(line); n += 1) line = `${base} (${n})`;
    taken.add(line);
    return { drawn, line, from: like && !like.sure ? 'known' : name === null ? 'file' : 'name' };
  });
}

/** What a columns map says of a point; null where it says too little to place it. */
function matchOf({ line, electrode, chainage_m: chainageM, at, remote }: NamedPlace): AssignedPoint['match'] {
  const lines = line === undefined ? [] : [line];
  if (remote !== undefined) return { lines, at: { kind: 'remote', role: remote } };
  if (line === undefined) return null;
  if (chainageM !== undefined) return { lines, at: { kind: 'chainage', chainageM } };
  if (electrode !== undefined) return { lines, at: { kind: 'electrode', electrode } };
  return at === undefined ? null : { lines, at: { kind: at } };
}
