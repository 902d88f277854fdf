/** A line by its name, as a sentence begins: "Line A", but "Line 3 east" stays as it is. */
export function lineWords(name: string): string {
  return /^line\b/i.test(name) ? name : `Line ${name}`;
}
