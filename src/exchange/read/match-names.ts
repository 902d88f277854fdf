import { bareKey, LONGEST_WORD } from './vocabulary';

/*
 * What people write beside a placed point in the field: "L1 e24", "Line 3 12.5m", "A-07", "L2 start", "B remote". The
 * tail of the name says which place of a line it is, what stands before it names the line; where nothing stands before
 * it, the folder of the point does.
 */

export type ElectrodeRole = 'A' | 'B' | 'M' | 'N';

/** Which place of a line. Electrodes are counted from 1; chainages are metres. */
export type PlaceAt =
  | { readonly kind: 'electrode'; readonly electrode: number }
  | { readonly kind: 'chainage'; readonly chainageM: number }
  | { readonly kind: 'start' }
  | { readonly kind: 'end' }
  | { readonly kind: 'remote'; readonly role: ElectrodeRole };

export interface NameGuess {
  /** The line; several for a remote electrode of many ("L1-4 infinity"); none for that of every line of the file. */
  readonly lines: readonly string[];
  readonly at: PlaceAt;
  /** `likely`: a number without a word, or a line known under a like name. */
  readonly certainty: 'sure' | 'likely';
  /** How the name was understood. */
  readonly pattern: 'fields' | 'electrode' | 'chainage' | 'station' | 'start' | 'end' | 'remote' | 'number';
}

/** What is to be matched. */
export interface Named {
  readonly key: string;
  readonly name: string | null;
  readonly folder: string | null;
  readonly fields: Readonly<Record<string, string>>;
}

interface Tail {
  /** What stands before it. */
  readonly head: string;
  readonly at: PlaceAt;
  readonly pattern: NameGuess['pattern'];
  readonly sure: boolean;
}

/** Metres in an international foot. */
const FOOT_M = 0.3048;
/** 1,250 is left alone: twelve hundred and fifty, or one and a quarter. */
const NUMBER = '(\\d{1,7}(?:\\.\\d{1,4})?|0,\\d{1,4}|\\d{1,7},(?:\\d{1,2}|\\d{4}))';
/** A word may not begin in the middle of another: the "e" of "Line24" is no electrode. */
const ELECTRODE =
  /(?<!\p{L})(?:e|el|elec|electrode|probe|pin|peg|stake|rod)\.?[\s_-]*(?:no\.?|nr\.?|#)?[\s_-]*(\d{1,5})$/iu;
const WITH_UNIT = new RegExp(`(?<![\\p{L}\\d.,+])(-?)\\s*${NUMBER}\\s*(m|metres?|meters?|ft|feet)$`, 'iu');
const WITH_WORD = new RegExp(
  `(?<!\\p{L})(?:ch|chainage|at|@|sta|stn|station|dist|distance)\\.?[\\s_:=]*(-?)${NUMBER}$`,
  'iu',
);
/** Kilometres and metres, as roads are pegged: 1+250 is 1250 m. */
const PEGGED = /(?<![\p{L}\d.,+])(\d{1,2})\+(\d{3}(?:\.\d{1,3})?)$/u;
const START = /(?<!\p{L})(?:start|begin|beginning|first|origin)$/iu;
const END = /(?<!\p{L})(?:end|last|finish)$/iu;
const REMOTE =
  /^(.*?)(?:(?<!\p{L})([ABMN])?[\s_.-]*(?:remote|infinity|infty|infinite|inf|∞))(?:[\s_.-]*electrode)?(?:[\s_.-]+([ABMN]))?$/iu;
const PLAIN_NUMBER = /^(.*\S)[\s_#/.:-]+0*(\d{1,4})$/u;

/** Understands the tail of a name; null when it says no place of a line. */
function tailOf(name: string): Tail | null {
  const found = (match: RegExpExecArray, at: PlaceAt, pattern: Tail['pattern'], sure = true): Tail => ({
    head: name.slice(0, match.index),
    at,
    pattern,
    sure,
  });
  const remote = REMOTE.exec(name);
  if (remote) {
    const letter = (remote[2] ?? remote[3])?.toUpperCase() as ElectrodeRole | undefined;
    return {
      head: remote[1] ?? '',
      at: { kind: 'remote', role: letter ?? 'B' },
      pattern: 'remote',
      sure: letter !== undefined,
    };
  }
  const electrode = ELECTRODE.exec(name);
  if (electrode && Number(electrode[1]) >= 1) {
    return found(electrode, { kind: 'electrode', electrode: Number(electrode[1]) }, 'electrode');
  }
  const withUnit = WITH_UNIT.exec(name);
  if (withUnit) {
    const factor = /^f/i.test(withUnit[3] ?? '') ? FOOT_M : 1;
    // Without a space before it a hyphen parts the number from the line: "L1-12.5m".
    const negative = withUnit[1] === '-' && (withUnit.index === 0 || /\s/.test(name[withUnit.index - 1] ?? ''));
    return found(withUnit, chainage(withUnit[2], factor * (negative ? -1 : 1)), 'chainage');
  }
  const pegged = PEGGED.exec(name);
  if (pegged) {
    const metres = Number(pegged[1]) * 1000 + Number(pegged[2]);
    return found(pegged, { kind: 'chainage', chainageM: metres }, 'station');
  }
  const withWord = WITH_WORD.exec(name);
  if (withWord) return found(withWord, chainage(withWord[2], withWord[1] === '-' ? -1 : 1), 'chainage');
  const start = START.exec(name);
  if (start) return found(start, { kind: 'start' }, 'start');
  const end = END.exec(name);
  if (end) return found(end, { kind: 'end' }, 'end');
  const number = PLAIN_NUMBER.exec(name);
  if (number && Number(number[2]) >= 1) {
    return {
      head: number[1] ?? '',
      at: { kind: 'electrode', electrode: Number(number[2]) },
      pattern: 'number',
      sure: false,
    };
  }
  return null;
}

const chainage = (text: string | undefined, factor: number): PlaceAt => ({
  kind: 'chainage',
  chainageM: Math.round(Number((text ?? '').replace(',', '.')) * factor * 1e6) / 1e6,
});

/** Words that loggers and maps number by themselves: "Marker 2" is no electrode of a line "Marker". */
const NUMBERED_BY_ITSELF =
  /^(?:marker|waypoint|wpt?|point|pt|poi|placemark|pushpin|flag|photo|image|img|picture|note|camp|stop|log|path|active|untitled|unnamed|cave|sink|sinkhole|doline|spring|tree|house)s?$/iu;

const trimSeparators = (text: string): string => text.replace(/^[\s_\-.,:;/#()@=]+|[\s_\-.,:;/#()@=]+$/gu, '');

/** A name of a line without the word for one and without leading zeros: "Line 03", "L-3" and "3" are alike. */
function looseKey(name: string): string {
  const key = bareKey(name);
  return /^(?:line|profile|traverse|transect|l)?0*(\d+)$/.exec(key)?.[1] ?? key;
}

/** Names of lines that are known, looked up as people spell them. */
export class LineNames {
  private readonly exact: ReadonlySet<string>;
  private readonly byKey = new Map<string, string[]>();
  private readonly byLooseKey = new Map<string, string[]>();

  constructor(readonly names: readonly string[]) {
    this.exact = new Set(names);
    for (const name of this.exact) {
      push(this.byKey, bareKey(name), name);
      push(this.byLooseKey, looseKey(name), name);
    }
  }

  /** The known line that is meant; null where none is, or more than one might be. */
  find(text: string): { readonly name: string; readonly sure: boolean } | null {
    if (this.exact.has(text)) return { name: text, sure: true };
    const byKey = this.byKey.get(bareKey(text)) ?? [];
    if (byKey.length === 1) return { name: byKey[0] as string, sure: true };
    const loose = this.byLooseKey.get(looseKey(text)) ?? [];
    return loose.length === 1 ? { name: loose[0] as string, sure: false } : null;
  }

  /** Lines of a range, "L1-4"; null unless every one is known. */
  range(text: string): readonly string[] | null {
    const parts = /^(.*?)(\d{1,4})\s*(?:-|–|to)\s*\D{0,3}?(\d{1,4})$/iu.exec(text);
    if (!parts) return null;
    const [first, last] = [Number(parts[2]), Number(parts[3])];
    if (last <= first || last - first > 100) return null;
    const found = Array.from({ length: last - first + 1 }, (_, i) => this.find(`${parts[1]}${first + i}`)?.name);
    return found.every((name) => name !== undefined) ? (found as string[]) : null;
  }
}

function push(map: Map<string, string[]>, key: string, name: string): void {
  const list = map.get(key);
  if (list) list.push(name);
  else map.set(key, [name]);
}

/**
 * Matches points with places of lines. Keys without an entry are matched with nothing.
 * A line that is not known is believed only when two points at least name different places of it, three where they have
 * nothing but numbers, so that "Gate 2" is no electrode of a line "Gate".
 */
export function matchNames(points: readonly Named[], known: LineNames): ReadonlyMap<string, NameGuess> {
  const guesses = new Map<string, NameGuess>();
  const fresh = new Map<string, { readonly key: string; readonly guess: NameGuess }[]>();
  for (const point of points) {
    const found = guessOf(point, known);
    if (found === null) continue;
    if (found.known) guesses.set(point.key, found.guess);
    else {
      const line = found.guess.lines[0] ?? '';
      const list = fresh.get(line);
      if (list) list.push({ key: point.key, guess: found.guess });
      else fresh.set(line, [{ key: point.key, guess: found.guess }]);
    }
  }
  for (const list of fresh.values()) {
    const places = new Set(list.flatMap(({ guess }) => (guess.at.kind === 'remote' ? [] : [JSON.stringify(guess.at)])));
    const numbersOnly = list.every(({ guess }) => guess.pattern === 'number' || guess.at.kind === 'remote');
    if (places.size < (numbersOnly ? 3 : 2)) continue;
    if (numbersOnly && NUMBERED_BY_ITSELF.test(list[0]?.guess.lines[0] ?? '')) continue;
    for (const { key, guess } of list) guesses.set(key, guess);
  }
  return guesses;
}

function guessOf(point: Named, known: LineNames): { readonly guess: NameGuess; readonly known: boolean } | null {
  const stated = statedIn(point.fields);
  if (stated) {
    const line = known.find(stated.line);
    return {
      guess: { lines: [line?.name ?? stated.line], at: stated.at, certainty: 'sure', pattern: 'fields' },
      known: line !== null,
    };
  }
  const name = point.name?.normalize('NFKC').trim() ?? '';
  if (name === '' || name.length > LONGEST_WORD) return null;
  // A name that is a line's own says no place of it, though it may end in a number.
  if (known.names.includes(name)) return null;
  const tail = tailOf(name);
  if (tail === null) return null;
  const head = trimSeparators(tail.head) || point.folder || '';
  const { at, pattern, sure } = tail;
  if (at.kind === 'remote') {
    if (head === '' || known.names.length === 0) {
      return { guess: { lines: [], at, certainty: sure ? 'sure' : 'likely', pattern }, known: known.names.length > 0 };
    }
    const range = known.find(head) === null ? known.range(head) : null;
    if (range) return { guess: { lines: range, at, certainty: 'likely', pattern }, known: true };
  }
  if (head === '') {
    const [only] = known.names;
    if (only === undefined || known.names.length > 1 || pattern === 'number') return null;
    return { guess: { lines: [only], at, certainty: 'likely', pattern }, known: true };
  }
  const line = known.find(head);
  const certainty = sure && (line === null || line.sure) ? 'sure' : 'likely';
  return { guess: { lines: [line?.name ?? head], at, certainty, pattern }, known: line !== null };
}

/** A line and a place of it among the named values of a point: a table of positions that became a map. */
function statedIn(fields: Readonly<Record<string, string>>): { readonly line: string; readonly at: PlaceAt } | null {
  const byKey = new Map(Object.entries(fields).map(([name, value]) => [bareKey(name), value.trim()]));
  const line = byKey.get('line') ?? byKey.get('linename');
  if (!line) return null;
  const role = /^(?:remote\s*)?([ABMN])$/i.exec(byKey.get('remoterole') ?? byKey.get('role') ?? '')?.[1];
  if (role) return { line, at: { kind: 'remote', role: role.toUpperCase() as ElectrodeRole } };
  const metres = Number(byKey.get('chainagem') ?? byKey.get('chainage') ?? Number.NaN);
  if (Number.isFinite(metres) && (byKey.get('chainagem') ?? byKey.get('chainage')) !== '') {
    return { line, at: { kind: 'chainage', chainageM: metres } };
  }
  const electrode = Number(byKey.get('electrode') ?? Number.NaN);
  return Number.isInteger(electrode) && electrode >= 1 ? { line, at: { kind: 'electrode', electrode } } : null;
}
