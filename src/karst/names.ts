/*
 * How alike two names are, in any script. Digits part names: "Pit 12" and "Pit 13" are neighbours, not spellings.
 */

/** Longer names are compared by their beginnings. */
const LONGEST = 80;
/** What names that differ in a number can at most be. Choice. */
const OTHER_NUMBER = 0.4;

/** A name without case, width, accents of Latin letters and punctuation; words parted by one space. */
export function foldedName(name: string): string {
  return (
    name
      .normalize('NFKC')
      .toLowerCase()
      .normalize('NFD')
      // Marks are taken off Latin letters only: й and и, or vowel signs of Indic scripts, are different letters.
      .replace(/(\p{Script=Latin})\p{M}+/gu, '$1')
      .normalize('NFC')
      .replace(/ß/g, 'ss')
      .replace(/[^\p{L}\p{M}\p{N}]+/gu, ' ')
      .trim()
      .slice(0, LONGEST)
  );
}

/** 1 for the same name, 0 for nothing in common: the better of letters and of words. */
export function foldedSimilarity(p: string, q: string): number {
  if (p === q) return 1;
  if (p === '' || q === '') return 0;
  const numbersDiffer = numbersOf(p) !== numbersOf(q);
  const letters = [[...p], [...q]] as const;
  const byLetters = 1 - editDistance(letters[0], letters[1]) / Math.max(letters[0].length, letters[1].length);
  const likeness = Math.max(byLetters, byWords(p, q));
  return numbersDiffer ? Math.min(OTHER_NUMBER, likeness) : likeness;
}

export const nameSimilarity = (p: string, q: string): number => foldedSimilarity(foldedName(p), foldedName(q));

/** Words in another order are the same name: twice the shared words over all of them (Sørensen's coefficient, 1948). */
function byWords(p: string, q: string): number {
  const [first, second] = [p.split(' '), q.split(' ')];
  const left = [...second];
  let shared = 0;
  for (const word of first) {
    const at = left.indexOf(word);
    if (at < 0) continue;
    left.splice(at, 1);
    shared += 1;
  }
  return (2 * shared) / (first.length + second.length);
}

const numbersOf = (text: string): string =>
  (text.match(/\p{N}+/gu) ?? []).map((n) => n.replace(/^0+(?=.)/, '')).join(' ');

/** Insertions, deletions and exchanges of letters that lead from one text to the other (Levenshtein 1966). */
export function editDistance(p: readonly string[], q: readonly string[]): number {
  let row = Array.from({ length: q.length + 1 }, (_, j) => j);
  for (let i = 1; i <= p.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= q.length; j += 1) {
      const exchange = (row[j - 1] as number) + (p[i - 1] === q[j - 1] ? 0 : 1);
      next.push(Math.min(exchange, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    row = next;
  }
  return row[q.length] as number;
}
