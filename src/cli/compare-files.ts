import { appraise } from '../appraise';
import type { Disclosed } from '../discretion/disclose';
import { withoutGrids } from '../discretion/without-grids';
import { changesCsv, changesLayer } from '../exchange/write/changes';
import { geojsonText } from '../exchange/write/geojson';
import type { Findings } from '../findings';
import { compareSurveys } from '../studies/compare';
import { dayOrder, daySpan } from '../studies/compare-days';
import { changeSentences, comparisonSentences } from '../studies/compare-words';
import type { Survey } from '../survey/survey';
import { readSurvey } from './read-survey';
import { settingsFor } from './settings-for';
import type { OutputFile } from './write-files';

const MOST_TOLD = 8;

/** An earlier survey beside the disclosed one: the files, what `about.json` says, and what is printed. */
export function compareWith(
  earlierPath: string,
  columns: string | undefined,
  disclosed: Disclosed,
  discloseEarlier: (survey: Survey, findings: Findings) => { readonly disclosed: Disclosed },
): {
  readonly files: readonly OutputFile[];
  readonly document: object;
  readonly lines: readonly string[];
  readonly inputs: readonly string[];
} {
  const { survey, inputs } = readSurvey(earlierPath, columns);
  const { disclosed: before } = discloseEarlier(survey, appraise(survey, settingsFor(survey)));
  const comparison = compareSurveys(before.findings, disclosed.findings);
  const sentences = comparisonSentences(comparison, dayOrder(daySpan(survey), daySpan(disclosed.survey)));
  const { matched, ...counts } = comparison;
  return {
    files: [
      { name: 'changes.geojson', text: geojsonText(changesLayer(disclosed, matched)) },
      { name: 'changes.csv', text: changesCsv(disclosed, matched) },
    ],
    document: {
      earlier: before.survey.site.name,
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

/** An earlier survey that hides what a later one hides: a place may have been found, or put under a class, since. */
export function hidingAsIn(later: Survey, earlier: Survey): Survey {
  const { features, site } = withoutGrids(later);
  const known = new Set<string>(features.map(({ id }) => id));
  return {
    ...earlier,
    features: [...earlier.features.filter(({ id }) => !known.has(id)), ...features],
    site: { ...earlier.site, discretion_classes: site.discretion_classes },
  };
}
