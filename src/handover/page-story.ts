import type { Disclosed } from '../discretion/disclose';
import type { FindableFinding, Findings, Settings, ZoneFinding, ZoneVerdict } from '../findings';
import { isTwoProbe } from '../survey/hookup';
import { counted, metres } from '../survey/wording';
import { shortText } from './html';
import type { ShareTerms } from './terms';

/** The questions that a reader has first, each with its short answer. */
export interface Answer {
  readonly key: 'what' | 'where' | 'smallest' | 'found' | 'unknown' | 'whom';
  readonly question: string;
  readonly answer: string;
}

export const VERDICT_WORDS: Readonly<Record<ZoneVerdict, string>> = {
  void_like: 'reads as a void would',
  layer_like: 'reads as soil of another thickness would',
  contact_like: 'reads as contact of the rods would',
  unresolved: 'not resolved',
};

/** What a zone is called in a list: a hint is never a finding. */
export const verdictWords = ({ verdict, figureKind }: Pick<ZoneFinding, 'verdict' | 'figureKind'>): string =>
  figureKind === 'two_probe' ? 'a hint: two-probe readings only' : VERDICT_WORDS[verdict];

export function storyOf({ survey, findings }: Disclosed, { contact }: ShareTerms): readonly Answer[] {
  const lengthM = findings.lines.reduce((sum, line) => sum + line.lengthM, 0);
  const days = daysOf(survey.outings.filter(({ retired }) => !retired).map(({ date }) => date ?? null));
  return [
    {
      key: 'what',
      question: 'Looked for',
      answer: 'Air-filled hollows under karst ground, by how the ground carries current.',
    },
    {
      key: 'where',
      question: 'Where',
      answer: `${counted(findings.lines.length, 'line')}, ${metres(Math.round(lengthM))} in all${days}.`,
    },
    { key: 'smallest', question: 'Smallest void that would have shown', answer: smallestWords(findings) },
    { key: 'found', question: 'Found', answer: foundWords(findings) },
    { key: 'unknown', question: 'Unknown', answer: unknownWords(findings) },
    {
      key: 'whom',
      question: 'Ask',
      answer: contact ? shortText(contact, 160) : 'Nobody is named. Ask whoever gave you this.',
    },
  ];
}

function daysOf(dates: readonly (string | null)[]): string {
  const days = dates.flatMap((date) => (date === null ? [] : [shortText(date.slice(0, 10), 10)])).sort();
  const [first, last] = [days[0], days.at(-1)];
  if (!first || !last) return '';
  return first === last ? `, read on ${first}` : `, read ${first} to ${last}`;
}

/** The smallest void that would have shown, and how far from the lines. */
export function smallestWords(findings: Findings): string {
  const { target } = findings.provenance.settings;
  const widths = findings.lines.flatMap(({ corridors }) => corridors.map(({ halfWidthM }) => halfWidthM));
  const searched = searchedWords(findings);
  if (widths.length === 0) return searched ?? 'No size of void can be excluded anywhere.';
  const most = metres(Number(widths.reduce((p, q) => Math.max(p, q)).toFixed(1)));
  const sized = `A chamber of radius ${metres(target.radiusM)}, centre ${metres(target.depthToCentreM)} down,`;
  return searched
    ? `${searched} ${sized} changes a reading to at most ${most} beside parts of the lines.`
    : `${sized} within at most ${most} of parts of the lines.`;
}

/** Share of the places under searched lines that a size is said for. Choice. */
const MOST_PLACES = 0.9;

/** What a search would have found under the lines of these places, at the depth nearest to the target's: sizes in words. */
export function findableWords(findable: readonly FindableFinding[], { target }: Settings): string | null {
  const { depthToCentreM } = target;
  const depthM = findable.reduce(
    (best, each) => (Math.abs(each.depthM - depthToCentreM) < Math.abs(best - depthToCentreM) ? each.depthM : best),
    Infinity,
  );
  const radius = (kind: FindableFinding['kind']): string | null => {
    const own = findable.filter((each) => each.kind === kind && each.depthM === depthM);
    const radii = own.map(({ radiusM }) => radiusM ?? Infinity).sort((p, q) => p - q);
    const most = radii[Math.ceil(MOST_PLACES * radii.length) - 1] ?? Infinity;
    return Number.isFinite(most) ? metres(Math.ceil(most * 10) / 10) : null;
  };
  const [chamber, passage] = [radius('chamber'), radius('passage')];
  const sizes = [
    ...(chamber ? [`a chamber of radius ${chamber}`] : []),
    ...(passage ? [`a passage across of radius ${passage}`] : []),
  ];
  return sizes.length === 0 ? null : `${metres(Number(depthM.toFixed(1)))} down: ${sizes.join(' or ')}`;
}

function searchedWords({ findable, searchedLines, lines, provenance }: Findings): string | null {
  const words = findableWords(findable, provenance.settings);
  return (
    words &&
    `Under the searched lines (${searchedLines.length} of ${lines.length}), ${words}, at nine places of ten, four times in five.`
  );
}

/** What stands where no zone was found: nothing compared is not the same as nothing different. */
export const noZoneWords = ({ lines }: Findings): string =>
  lines.some(({ midpoints }) => midpoints.some(({ ratio }) => ratio !== null))
    ? 'No readings stand out together. That rules nothing out.'
    : 'Nothing could be compared: the readings have no reference. That rules nothing out.';

function foundWords(findings: Findings): string {
  const { zones, searchedLines, lines } = findings;
  const unsearched = lines.length - searchedLines.length;
  const searched =
    searchedLines.length === 0
      ? ' No line was searched for a void.'
      : unsearched > 0
        ? ` ${counted(unsearched, 'line')} not searched for a void.`
        : '';
  if (zones.length === 0) return `${noZoneWords(findings)}${searched}`;
  const count = (words: string, of: readonly ZoneFinding[]): string[] =>
    of.length > 0 ? [`${of.length} ${words}`] : [];
  const graded = zones.filter(({ figureKind }) => figureKind !== 'two_probe');
  const by = (verdict: ZoneVerdict) => graded.filter((zone) => zone.verdict === verdict);
  const parts = [
    ...count('like a void', by('void_like')),
    ...count('not resolved', by('unresolved')),
    ...count('like soil', by('layer_like')),
    ...count('like rod contact', by('contact_like')),
    ...count(
      'with leads only',
      zones.filter(({ figureKind }) => figureKind === 'two_probe'),
    ),
  ];
  return `${counted(zones.length, 'zone')}: ${parts.join(', ')}. None is proof.${searched}`;
}

/** Where nothing is known, in a paragraph. */
export const unknownParagraph = ({ searchedLines }: Findings): string =>
  `Outside the corridors the ground is not surveyed, and never to be called safe. Within them${searchedLines.length > 0 ? ', and under lines that were searched,' : ''} a smaller or deeper void may still be there. Readings neither prove nor rule out a void.`;

function unknownWords(findings: Findings): string {
  const seen = findings.lines.some(({ corridors }) => corridors.length > 0);
  const twoProbe = findings.lines.some(({ hookups }) => hookups.some(isTwoProbe));
  const ground = seen ? 'The hatched ground: not surveyed, never safe.' : 'All of the ground.';
  return twoProbe ? `${ground} Two-probe lines exclude nothing.` : ground;
}

/** Who stands behind it, as the survey says. */
export function reviewWords({ survey }: Disclosed): string {
  const { review_status, reviewer, review_date } = survey.site;
  const said = shortText(review_status || 'not reviewed by a licensed professional', 160);
  const by = reviewer ? `, by ${shortText(reviewer, 80)}` : '';
  const on = review_date ? `, ${shortText(review_date, 20)}` : '';
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}${by}${on}.`;
}

export const titleOf = ({ survey }: Disclosed, { title }: ShareTerms): string =>
  shortText(title ?? '', 80) || shortText(survey.site.name, 80) || 'A survey';

/** When a share was made, to the minute; as it was said where that is no time in UTC. */
export function madeWords({ madeAt }: ShareTerms): string {
  const said = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})(?::\d{2}(?:\.\d+)?)?Z$/.exec(madeAt);
  return said ? `${said[1]}, ${said[2]} UTC` : shortText(madeAt, 40);
}
