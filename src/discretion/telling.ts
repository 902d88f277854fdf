import { editDistance, foldedName } from '../karst/names';
import { geodesicDistanceM } from '../position/geodesic';
import { reachM } from './near';
import { placesInText, type TextPlace } from './places-in-text';
import type { Protected } from './protected';

/** Which hidden features a text gives away: by name, by number in a list, or by coordinates. */
export interface Telling {
  tells(text: string): readonly Protected[];
}

const PIECE = 60;

/** Words that many places share and that name none of them. */
const COMMON = new Set(
  foldedWords(
    'cave caves cavern entrance hole pit shaft sink sinkhole sinking spring stream doline ponor swallow estavelle grotte hohle schacht quelle cueva sima пещера воронка провал the of der die das la le el de am im an upper lower big small old new north south east west site line zone outing reference',
  ),
);
/** Shorter words name nothing by themselves. */
const SHORTEST_WORD = 4;
/** Shorter words are not looked for with a slip in them, nor inside longer ones. Choice. */
const SHORTEST_FUZZY = 6;
/** Words with two slips are still the same from this length on. Choice. */
const TWO_SLIPS = 9;
/** Longer words are looked at by their beginning. */
const LONGEST_WORD = 30;
/** Pieces that one number or name is written in. */
const MOST_PIECES = 5;

/** The words, and those that stand letter by letter: "B l u e". */
function withSpelled(words: readonly string[]): readonly string[] {
  if (!words.some((word, i) => word.length === 1 && words[i + 1]?.length === 1)) return words;
  const spelled: string[] = [];
  let own = '';
  for (const word of [...words, 'end']) {
    if (word.length === 1) own += word;
    else {
      if (own.length > 1) spelled.push(own);
      own = '';
    }
  }
  return [...words, ...spelled];
}

function foldedWords(text: string): string[] {
  const words: string[] = [];
  // Names are folded up to a length: a longer text goes piece by piece, the pieces overlapping by more than a word.
  for (let at = 0; at === 0 || at < text.length; at += PIECE) {
    words.push(...foldedName(text.slice(at, at + PIECE + 20)).split(' '));
  }
  return words.filter(Boolean);
}

/** An index of what hidden features are called and where they are, for many texts. */
export function tellingOf(hidden: readonly Protected[]): Telling {
  const byWord = new Map<string, Protected[]>();
  const whole: { readonly words: readonly string[]; readonly each: Protected }[] = [];
  const index = (word: string, each: Protected): void => {
    byWord.set(word, [...(byWord.get(word) ?? []), each]);
  };
  for (const each of hidden) {
    const { name, external_id: number, origins } = each.feature;
    const own = name ? foldedWords(name) : [];
    const telling = own.filter((word) => word.length >= SHORTEST_WORD && !COMMON.has(word) && !/^\p{N}+$/u.test(word));
    for (const word of telling) index(word, each);
    // A name of common or short words is told only as a whole.
    if (telling.length === 0 && own.length > 1) whole.push({ words: own, each });
    for (const id of [number, ...(origins ?? []).map(({ external_id }) => external_id)]) {
      const pieces = id ? foldedWords(id) : [];
      // "Register 7714/25" is also called "No. 7714/25".
      const bare = pieces.slice(pieces.findIndex((piece) => /\p{N}/u.test(piece)));
      for (const folded of new Set([pieces.join(''), bare.join('')]))
        if (folded.length >= SHORTEST_WORD) index(folded, each);
    }
  }
  const likeWord = wordsLike([...byWord.keys()].filter((word) => word.length >= SHORTEST_FUZZY));
  const ofWord = new Map<string, readonly Protected[]>();
  const wordTells = (word: string): readonly Protected[] => {
    const known = ofWord.get(word);
    if (known) return known;
    const exact = byWord.get(word) ?? [];
    const like =
      exact.length > 0 || word.length < SHORTEST_FUZZY - 1 || COMMON.has(word)
        ? []
        : likeWord(word.slice(0, LONGEST_WORD)).flatMap((own) => byWord.get(own) ?? []);
    const found = [...exact, ...like];
    ofWord.set(word, found);
    return found;
  };
  const placed = hidden.filter(({ place }) => place !== null);
  return {
    tells(text) {
      const found = new Set<Protected>();
      if (byWord.size > 0 || whole.length > 0) {
        const words = withSpelled(foldedWords(text));
        for (let i = 0; i < words.length; i += 1) {
          const word = words[i] as string;
          for (const each of wordTells(word)) found.add(each);
          // Numbers and names that are written in pieces: "K 17", "Blue whistle", "Register 7714/25".
          let joined = word;
          for (let k = i - 1; k >= 0 && k > i - MOST_PIECES && joined.length < LONGEST_WORD; k -= 1) {
            joined = `${words[k]}${joined}`;
            for (const each of byWord.get(joined) ?? []) found.add(each);
          }
        }
        for (const { words: own, each } of whole) if (own.every((word) => words.includes(word))) found.add(each);
      }
      const places = placed.length > 0 ? placesInText(text) : null;
      for (const each of places ? placed : []) {
        const { place } = each;
        if (!place || found.has(each)) continue;
        // A degree is longer than 100 km but for longitudes near the poles: this spares nearly every geodesic.
        const isNear = (said: TextPlace): boolean => {
          const reach = reachM(each) + said.roundedM;
          return Math.abs(said.lat - place.lat) < 1e-5 * reach && geodesicDistanceM(said, place) <= reach;
        };
        if (places?.(place).some(isNear)) found.add(each);
      }
      return [...found];
    },
  };
}

/**
 * Finds the words that are like another: within a longer word, or with a slip or two. Words are filed under all that is
 * left of them when letters are taken out: two words with so many slips share one of those (symmetric deletion).
 */
function wordsLike(own: readonly string[]): (word: string) => readonly string[] {
  const all = new Set(own);
  const byRest = new Map<string, string[]>();
  for (const word of all) {
    for (const rest of restsOf(word, slipsIn(word))) {
      const known = byRest.get(rest);
      if (known) known.push(word);
      else byRest.set(rest, [word]);
    }
  }
  return (word) => {
    const found = new Set<string>();
    for (let from = 0; from + SHORTEST_FUZZY <= word.length; from += 1) {
      for (let to = from + SHORTEST_FUZZY; to <= word.length; to += 1) {
        const piece = word.slice(from, to);
        if (all.has(piece)) found.add(piece);
      }
    }
    for (const rest of restsOf(word, slipsIn(word))) {
      for (const other of byRest.get(rest) ?? []) {
        if (!found.has(other) && editDistance([...word], [...other]) <= slipsIn(other)) found.add(other);
      }
    }
    return [...found];
  };
}

const slipsIn = (word: string): number => (word.length >= TWO_SLIPS ? 2 : 1);

function restsOf(word: string, slips: number): ReadonlySet<string> {
  let last = new Set([word]);
  const rests = new Set(last);
  for (let i = 0; i < slips; i += 1) {
    const next = new Set<string>();
    for (const each of last) {
      for (let at = 0; at < each.length; at += 1) next.add(each.slice(0, at) + each.slice(at + 1));
    }
    for (const each of next) rests.add(each);
    last = next;
  }
  return rests;
}
