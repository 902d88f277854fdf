import type { LineFindings, ZoneFinding } from '../../../findings';
import { metres } from '../../../survey/wording';
import { lineWords } from '../../words/line-words';

/** What the search says of the place on every line: "Line A at 18.8 m (18.3 to 19.2); line B at …"; empty without a search. */
export function crossingWords({ crossings, basis }: ZoneFinding, lines: readonly LineFindings[]): string {
  if (basis !== 'search') return '';
  const names = new Map(lines.map(({ lineId, name }) => [lineId, name]));
  return crossings
    .flatMap(({ lineId, chainageM: { best, low95, high95 } }) => {
      const name = names.get(lineId);
      if (name === undefined) return [];
      const range = `${tenth(low95)} to ${tenth(high95)} m`;
      return [{ name, words: `${lineWords(name)} at ${best === null ? range : `${metres(tenth(best))} (${range})`}` }];
    })
    .sort((p, q) => p.name.localeCompare(q.name, 'en', { numeric: true }))
    .map(({ words }) => words)
    .join('; ');
}

const tenth = (value: number): number => Number(value.toFixed(1));
