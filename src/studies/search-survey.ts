import type { Findings, LineFindings } from '../findings';
import type { VoidTable } from '../ground/void-table';
import { isTwoProbe } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import { type Refusal, refuse } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { neighbourLines } from './neighbour-lines';
import type { Tick } from './study-key';
import { searchRefusal, voidSearch } from './void-search';
import type { VoidSearchResult } from './void-search-answer';
import { voidSearchInputOf } from './void-search-input';

/** What a search of every line of a survey came to. */
export interface SurveySearch {
  readonly results: readonly VoidSearchResult[];
  /** Lines that could not be searched, or not together, each with the reason. */
  readonly leftOut: readonly { readonly lines: readonly string[]; readonly sentence: string }[];
}

/** Lines that are searched together: those that one passage may cross, and every other line by itself. */
export function searchGroups(lines: readonly LineFindings[]): readonly (readonly LineId[])[] {
  const readable = lines.filter(({ hookups }) => hookups.some((hookup) => !isTwoProbe(hookup)));
  const groups = neighbourLines(readable);
  const grouped = new Set(groups.flat());
  const alone = readable.filter(({ lineId }) => !grouped.has(lineId)).map(({ lineId }) => [lineId]);
  return [...groups, ...alone];
}

/**
 * What a search of a group is computed from: of its lines those that can be searched, the others with the reason. Null
 * where none can.
 */
export function groupInput(survey: Survey, findings: Findings, group: readonly LineId[]) {
  const names = new Map<LineId, string>(findings.lines.map(({ lineId, name }) => [lineId, name]));
  const leftOut: { lines: string[]; sentence: string }[] = [];
  const able = group.filter((lineId) => {
    const input = voidSearchInputOf(survey, findings, [lineId]);
    const refused = input.ok ? (ownReference(survey, findings, lineId) ?? searchRefusal(input.value)) : input;
    if (refused) leftOut.push({ lines: [names.get(lineId) ?? lineId], sentence: refused.sentence });
    return !refused;
  });
  const input = able.length > 0 ? voidSearchInputOf(survey, findings, able) : null;
  if (input && !input.ok) leftOut.push({ lines: able.map((id) => names.get(id) ?? id), sentence: input.sentence });
  return { input: input?.ok ? input.value : null, leftOut };
}

/** A line of which more than this share is the reference is compared with itself. */
const MOSTLY = 0.5;

/** A void under the reference is in everything that is compared with it, and shows nowhere. */
function ownReference({ references }: Survey, { lines }: Findings, lineId: LineId): Refusal | null {
  const line = lines.find((each) => each.lineId === lineId);
  const places = new Set(line?.midpoints.map(({ chainageM }) => Math.round(1000 * chainageM)));
  const own = new Set(
    references
      .filter(({ retired }) => !retired)
      .flatMap(({ stations }) => stations)
      .filter((station) => station.line === lineId)
      .map((station) => Math.round(1000 * station.chainage_m)),
  );
  const shared = [...places].filter((place) => own.has(place)).length;
  return shared > MOSTLY * places.size
    ? refuse(
        'own_reference',
        `Line ${line?.name} is the reference itself: what lies under it is in everything that it is compared with. To search it, compare it with another quiet place.`,
      )
    : null;
}

/** The study `void-search` of a whole survey, group by group. */
export function searchSurvey(
  survey: Survey,
  findings: Findings,
  tableOf: (tick: Tick) => VoidTable,
  tick: Tick = () => {},
): SurveySearch {
  const twoProbe = findings.lines.filter(({ hookups }) => !hookups.some((hookup) => !isTwoProbe(hookup)));
  const groups = [...searchGroups(findings.lines), ...twoProbe.map(({ lineId }) => [lineId])].map((group) =>
    groupInput(survey, findings, group),
  );
  const results: VoidSearchResult[] = [];
  const leftOut = groups.flatMap((group) => group.leftOut);
  const inputs = groups.flatMap(({ input }) => input ?? []);
  for (const [step, input] of inputs.entries()) {
    const result = voidSearch(input, tableOf, (part) => tick((step + part) / inputs.length));
    if (result.ok) results.push(result.value);
    else leftOut.push({ lines: input.lines.map(({ line }) => line), sentence: result.sentence });
  }
  tick(1);
  return { results, leftOut };
}
