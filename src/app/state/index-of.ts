import type { Content } from './app-state';
import { type ReadingIndex, readingIndex } from './reading-index';

const known = new WeakMap<Content, ReadingIndex>();

/** The index of a survey's content, made when it is first asked for. */
export function indexOf(content: Content): ReadingIndex {
  const had = known.get(content);
  if (had) return had;
  const made = readingIndex(content.survey, content.findings);
  known.set(content, made);
  return made;
}
