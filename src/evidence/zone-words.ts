import type { LineFindings, Range95, ZoneFinding, ZoneVerdict } from '../findings';
import type { LineId } from '../survey/ids';
import { counted, metres, nameList, ratioText, significant } from '../survey/wording';
import { ZONE_STEPS } from '../survey/zone-steps';

/** One paragraph a zone: what is known, what else could explain it, what to do next. */
export interface ZoneTold {
  /** What a list shows: "Zone 1, line A, 15 to 21 m". */
  readonly title: string;
  readonly verdict: string;
  readonly known: readonly string[];
  readonly otherwise: string;
  readonly next: string;
}

export const ZONE_VERDICT_WORDS: Readonly<Record<ZoneVerdict, string>> = {
  void_like: 'Reads as a void would',
  layer_like: 'Reads as soil of another thickness would',
  contact_like: 'Reads as contact of the rods would',
  unresolved: 'Not resolved',
};

const OTHERWISE: Readonly<Record<ZoneVerdict, string>> = {
  void_like:
    'Soil of uneven depth, a pocket of other ground, or an opening nearby can read alike: this does not prove a void.',
  layer_like: 'A flat or wide hollow can read alike: this does not rule a void out.',
  contact_like: 'Dry or loose rods explain it. A void behind it is neither proved nor ruled out.',
  unresolved:
    'Uneven soil, other ground, contact of the rods or a void can be behind it: neighbouring readings stand out together over all of these.',
};

export const ZONE_LIMITS = 'Siting, design and clearance belong to licensed practice and local codes.';

export function zoneWords(zone: ZoneFinding, lines: readonly LineFindings[]): ZoneTold {
  const names = new Map(lines.map(({ lineId, name }) => [lineId, name]));
  const nameOf = (id: LineId): string => names.get(id) ?? '?';
  return {
    title: `${zone.name}, ${placeWords(zone, nameOf)}`,
    verdict:
      zone.figureKind === 'two_probe'
        ? `${ZONE_VERDICT_WORDS[zone.verdict]}; two-probe hints only`
        : ZONE_VERDICT_WORDS[zone.verdict],
    known: [readingsWords(zone, nameOf), searchWords(zone, nameOf), depthWords(zone), trendWords(zone)].filter(
      (sentence) => sentence !== null,
    ),
    otherwise: OTHERWISE[zone.verdict],
    next: `${ZONE_STEPS[zone.searched && zone.basis === 'grades' ? 'searched_in_vain' : zone.verdict].todo} ${ZONE_LIMITS}`,
  };
}

/** The whole paragraph, for a file. */
export function zoneParagraph(zone: ZoneFinding, lines: readonly LineFindings[]): string {
  const { title, verdict, known, otherwise, next } = zoneWords(zone, lines);
  return [`${title}. ${verdict}.`, ...known, otherwise, next].join(' ');
}

function placeWords({ footprint, lines }: ZoneFinding, nameOf: (id: LineId) => string): string {
  const [only, ...others] = lines;
  if (only === undefined) return 'nowhere';
  if (others.length > 0) return `lines ${nameList(lines.map(nameOf))}`;
  const [fromM, toM] = [Math.min(...footprint.map((p) => p.fromM)), Math.max(...footprint.map((p) => p.toM))];
  return `line ${nameOf(only)}, ${fromTo(fromM, toM)}`;
}

function readingsWords(zone: ZoneFinding, nameOf: (id: LineId) => string): string | null {
  const { highs, lows, peakRatio, peakRatioStandardError, lines, outings, readingCount, figureKind } = zone;
  if (readingCount === 0) return null;
  const what = figureKind === 'two_probe' ? 'two-probe hints' : 'readings';
  const stand = [highs > 0 ? `${highs} above` : '', lows > 0 ? `${lows} below` : ''].filter(Boolean).join(' and ');
  const peak =
    peakRatio === null
      ? ''
      : `; the strongest is ${ratioText(peakRatio)}${peakRatioStandardError === null ? '' : ` ± ${ratioText(peakRatioStandardError)}`} times it`;
  const days = outings.length > 0 ? `, ${counted(outings.length, 'day')}` : '';
  return `${stand === '' ? counted(readingCount, 'reading') : `Of the ${what}, ${stand} the reference`}${peak} (${lines.length === 1 ? `line ${nameOf(lines[0] as LineId)}` : counted(lines.length, 'line')}${days}).`;
}

function searchWords(
  { chanceOfNoVoid, crossings, basis, figureKind, searched, lines }: ZoneFinding,
  nameOf: (id: LineId) => string,
): string | null {
  if (basis !== 'search' || chanceOfNoVoid === null) {
    if (figureKind === 'two_probe') {
      return 'A two-probe figure is mostly contact: no void size can be excluded, and none is found by it.';
    }
    return searched
      ? 'The search along the line needs no void here: uneven soil and scatter explain it.'
      : 'Grades of neighbouring readings alone; no search of the line was made here.';
  }
  const odds = chanceOfNoVoid <= 0.001 ? 'less than 1 in 1000' : `about ${significant(100 * chanceOfNoVoid, 1)} in 100`;
  const where = crossings
    .slice(0, 1)
    .map(
      ({ chainageM, lineId }) => ` at ${rangeWords(chainageM)}${lines.length > 1 ? ` on line ${nameOf(lineId)}` : ''}`,
    )
    .join('');
  return `The search along the line has it${where}; without a void a line like this gives as much by chance in ${odds}.`;
}

function depthWords({ depthM, radiusM, basis }: ZoneFinding): string | null {
  if (!depthM) return null;
  if (basis === 'grades') {
    return `Its readings look at ${fromTo(depthM.low95, depthM.high95)} below ground by the depth rule, which is no depth of anything found.`;
  }
  const radius = radiusM ? `, radius ${rangeWords(radiusM)}` : '';
  return `If it is a void, its middle lies ${rangeWords(depthM)} below ground${radius} (95 % ranges).`;
}

/** "1.7 to 2.9 m", and "1.7 m" where both round to it. */
function fromTo(fromM: number, toM: number): string {
  const [from, to] = [Number(fromM.toFixed(1)), Number(toM.toFixed(1))];
  return from === to ? metres(to) : `${from} to ${metres(to)}`;
}

const rangeWords = ({ best, low95, high95 }: Range95): string => {
  const range = fromTo(low95, high95);
  return best === null ? range : `${metres(Number(best.toFixed(1)))} (${range})`;
};

function trendWords({ trendDeg }: ZoneFinding): string | null {
  if (!trendDeg || trendDeg.best === null) return null;
  return `Three or more lines have it in one row, towards ${Math.round(trendDeg.best)}° from true north ± ${Math.round((trendDeg.high95 - trendDeg.low95) / 2)}°.`;
}
