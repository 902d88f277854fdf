import { isOutside } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { ladderFigure } from '../figures/ladder';
import { ladderData } from '../figures/ladder-data';
import { fileLook } from '../figures/look';
import { profileFigure } from '../figures/profile';
import { profileData } from '../figures/profile-data';
import { searchFigure } from '../figures/search';
import type { LineFindings, MidpointFinding, ZoneFinding } from '../findings';
import { isTwoProbe } from '../survey/hookup';
import type { Reading } from '../survey/survey';
import { metres } from '../survey/wording';
import { shortText } from './html';
import { verdictWords } from './page-story';

/** Two stand side by side on paper, without a tint that costs ink. */
const FIGURE_LOOK = { ...fileLook(400), paper: '#ffffff', paintPaper: false };

export interface ReportFigure {
  readonly svg: string;
  readonly caption: string;
}

/** Finds the readings of a place without going through all of them for each zone. */
export type ReadingsOf = (line: LineFindings) => readonly Reading[];

/** The figures of a zone: its line at the spacing that stands out most, the spacings at its strongest place, the search. */
export function zoneFigures(zone: ZoneFinding, disclosed: Disclosed, readingsOf: ReadingsOf): readonly ReportFigure[] {
  // Outsiders get no figure of hints: there is nothing in it that is a finding.
  if (isOutside(disclosed.audience) && zone.figureKind === 'two_probe') return [];
  const { findings } = disclosed;
  const own = new Set(zone.midpoints);
  const strongest = strongestOf(
    findings.lines.filter(({ lineId }) => zone.lines.includes(lineId)),
    own,
    isOutside(disclosed.audience),
  );
  return [
    ...(strongest ? readingFigures(strongest, disclosed, readingsOf) : []),
    ...(zone.basis === 'search' ? searchFigures(zone, disclosed) : []),
  ];
}

interface Strongest {
  readonly line: LineFindings;
  readonly midpoint: MidpointFinding;
}

function strongestOf(
  lines: readonly LineFindings[],
  keys: ReadonlySet<string>,
  withoutLeads: boolean,
): Strongest | null {
  let best: Strongest | null = null;
  for (const line of lines) {
    for (const midpoint of line.midpoints) {
      if (!keys.has(midpoint.key) || (withoutLeads && isTwoProbe(midpoint.hookup))) continue;
      if (!best || Math.abs(midpoint.zScore ?? 0) > Math.abs(best.midpoint.zScore ?? 0)) best = { line, midpoint };
    }
  }
  return best;
}

function readingFigures({ line, midpoint }: Strongest, disclosed: Disclosed, readingsOf: ReadingsOf): ReportFigure[] {
  const { provenance, references } = disclosed.findings;
  const named = { ...line, name: shortText(line.name, 40) };
  const figures: ReportFigure[] = [];
  if (midpoint.ratio !== null) {
    const data = profileData(named, midpoint, [midpoint.spacingM], provenance.settings);
    figures.push({
      svg: profileFigure(data, FIGURE_LOOK),
      caption: `Line ${named.name} at one spacing: how many times the reference each reading is.`,
    });
  }
  const ladder = ladderData(named, midpoint.chainageM, midpoint.hookup, references, readingsOf(line));
  if (ladder.points.filter(({ figureOhmM }) => figureOhmM !== null).length >= 2) {
    figures.push({
      svg: ladderFigure(ladder, FIGURE_LOOK),
      caption: `Line ${named.name} at ${metres(midpoint.chainageM)}, where it is strongest: all spacings, against the reference.`,
    });
  }
  return figures;
}

function searchFigures(zone: ZoneFinding, { findings }: Disclosed): ReportFigure[] {
  const { depthM, radiusM } = zone;
  if (!depthM || !radiusM || depthM.best === null || radiusM.best === null) return [];
  const [depth, radius] = [
    { ...depthM, best: depthM.best },
    { ...radiusM, best: radiusM.best },
  ];
  return zone.crossings.flatMap(({ lineId, chainageM }) => {
    const line = findings.lines.find((each) => each.lineId === lineId);
    const findable = findings.findable.filter((each) => each.lineId === lineId && each.kind === 'passage');
    if (!line || chainageM.best === null || findable.length === 0) return [];
    const drawing = {
      line: shortText(line.name, 40),
      electrodesM: line.electrodes.flatMap((each) =>
        each.role === 'probe' && each.chainageM !== null ? [each.chainageM] : [],
      ),
      candidates: [
        {
          chainageM: { ...chainageM, best: chainageM.best },
          depthM: depth,
          radiusM: radius,
          words: verdictWords(zone),
          isVoid: zone.verdict === 'void_like',
        },
      ],
      findable,
    };
    return [
      {
        svg: searchFigure(drawing, FIGURE_LOOK),
        caption: `The search along line ${drawing.line}: the void at its likeliest size, in it where its middle may lie (95 %), and how small a passage would have been found.`,
      },
    ];
  });
}
