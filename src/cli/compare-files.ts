import { appraise } from '../appraise';
import type { Disclosed } from '../discretion/disclose';
import { changesCsv, changesLayer } from '../exchange/write/changes';
import { geojsonText } from '../exchange/write/geojson';
import { compareSurveys } from '../studies/compare';
import { changeSentences, comparisonSentences } from '../studies/compare-words';
import { readSurvey } from './read-survey';
import { settingsFor } from './settings-for';
import type { OutputFile } from './write-files';

const MOST_TOLD = 8;

/** An earlier survey beside the disclosed one: the files, what `about.json` says, and what is printed. */
export function compareWith(
  earlierPath: string,
  columns: string | undefined,
  disclosed: Disclosed,
): {
  readonly files: readonly OutputFile[];
  readonly document: object;
  readonly lines: readonly string[];
  readonly inputs: readonly string[];
} {
  const { survey, inputs } = readSurvey(earlierPath, columns);
  const comparison = compareSurveys(appraise(survey, settingsFor(survey)), disclosed.findings);
  const sentences = comparisonSentences(comparison);
  const { matched, ...counts } = comparison;
  return {
    files: [
      { name: 'changes.geojson', text: geojsonText(changesLayer(disclosed, matched)) },
      { name: 'changes.csv', text: changesCsv(disclosed, matched) },
    ],
    document: {
      earlier: survey.site.name,
      matched: matched.length,
      only_before: counts.onlyBefore,
      only_after: counts.onlyAfter,
      tested: counts.tested,
      changed: counts.changed,
      sentences,
    },
    lines: [
      'Compared with the earlier survey',
      ...[...sentences, ...changeSentences(comparison, MOST_TOLD)].map((each) => `  ${each}`),
    ],
    inputs,
  };
}
