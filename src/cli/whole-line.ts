import type { Findings } from '../findings';
import { createVoidTable } from '../ground/void-table';
import { candidatePlace } from '../studies/line-words';
import { groupInput } from '../studies/search-survey';
import { section } from '../studies/section';
import { sectionInputOf } from '../studies/section-input';
import type { SoundingResult } from '../studies/sounding';
import { candidatesUnder, columnUnder } from '../studies/under-midpoint';
import { voidSearch } from '../studies/void-search';
import type { Outcome } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { metres, ohmMetres } from '../survey/wording';
import { printable } from './faults';
import { progress } from './progress';

interface Told {
  readonly document: object;
  readonly lines: readonly string[];
}

/** What the section and the search of a whole line say under the midpoint of a ladder; or why they cannot. */
export function wholeLine(survey: Survey, findings: Findings, { line, chainageM }: SoundingResult): Told {
  const lineId = findings.lines.find(({ name }) => name === line)?.lineId;
  if (!lineId) throw new Error(`the ladder came from line ${line}`);
  const asked = sectionInputOf(survey, findings, lineId);
  const drawn = asked.ok ? section(asked.value, progress('section')) : asked;
  const { input, leftOut } = groupInput(survey, findings, [lineId]);
  const searched = input ? voidSearch(input, createVoidTable, progress('search')) : null;
  const column = told(drawn, (result) => ({
    document: {
      depth_limit_m: Number(result.depthLimitM.toFixed(2)),
      cells: columnUnder(result, chainageM).map((cell) => ({
        depth_top_m: Number(cell.depthTopM.toFixed(2)),
        depth_bottom_m: Number(cell.depthBottomM.toFixed(2)),
        resistivity_ohm_m: Number(cell.resistivityOhmM.toPrecision(4)),
        coverage: Number(cell.coverage.toFixed(3)),
      })),
    },
    lines: columnUnder(result, chainageM).map(
      ({ depthTopM, depthBottomM, resistivityOhmM }) =>
        `${metres(depthTopM)} to ${metres(depthBottomM)}: ${ohmMetres(resistivityOhmM)}`,
    ),
  }));
  const reason = leftOut[0]?.sentence ?? 'This line cannot be searched.';
  const found = searched
    ? told(searched, (result) => {
        const under = candidatesUnder(result, line, chainageM);
        const sentences =
          under.length > 0
            ? under.map((candidate) => `${candidatePlace(candidate)} ${candidate.sentence}`)
            : [
                'Nothing here changes the readings as a void would beyond uneven soil and scatter; that is no proof of sound ground.',
              ];
        return {
          document: { verdicts: under.map(({ verdict }) => verdict), sentences },
          lines: sentences,
        };
      })
    : { document: { reason }, lines: [reason] };
  return {
    document: { section: column.document, search: found.document },
    lines: [
      '',
      'Section under it',
      ...column.lines.map(indented),
      '',
      'Search along the line',
      ...found.lines.map(indented),
    ].map(printable),
  };
}

const indented = (line: string): string => `  ${line}`;

function told<T>(outcome: Outcome<T>, tell: (value: T) => Told): Told {
  return outcome.ok ? tell(outcome.value) : { document: { reason: outcome.sentence }, lines: [outcome.sentence] };
}
