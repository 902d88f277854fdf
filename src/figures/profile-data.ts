import type { LineFindings, MidpointFinding, Settings } from '../findings';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { Range } from './axis';
import { isOverRange, type MarkKey, markKey } from './mark-key';

/** One midpoint of a profile. */
export interface ProfilePoint {
  /** The key of its midpoint finding: what a mark links to. */
  readonly sid: string;
  readonly chainageM: number;
  /** Null where no value was shown, or nothing was there to compare it with. */
  readonly ratio: number | null;
  readonly ratioStandardError: number | null;
  /** Over range: the ratio is above this, where limit and reference are known. */
  readonly aboveRatio: number | null;
  readonly overRange: boolean;
  readonly key: MarkKey;
  /** Chainages (m) of its electrodes on the line. */
  readonly probesM: readonly number[];
}

/** All midpoints of one spacing, by growing chainage. */
export interface ProfileStrip {
  /** Null: the spacing was not said. */
  readonly spacingM: number | null;
  readonly points: readonly ProfilePoint[];
}

/** Ratios to the reference along a line, spacing by spacing. */
export interface ProfileData {
  readonly line: string;
  readonly hookup: Hookup;
  readonly twoProbe: boolean;
  readonly fromM: number;
  readonly toM: number;
  /** Chainages at which the line turns. */
  readonly bendsM: readonly number[];
  /** Chainages at which a probe has stood. */
  readonly probesM: readonly number[];
  /** So many standard errors from 1 is the least that counts. */
  readonly zThreshold: number;
  /** False: the line has more midpoints than a figure can show, and these are the ones nearest to the reading. */
  readonly whole: boolean;
  /** The least ratio (or its inverse) that is graded. */
  readonly leastRatio: number;
  readonly strips: readonly ProfileStrip[];
}

/**
 * What readings along a line have to share to be one profile: the hookup and, where the hookup leaves it open, the
 * separation of its dipoles. The tail of a midpoint's key.
 */
export function profileKind({ key, lineId }: Pick<MidpointFinding, 'key' | 'lineId'>): string {
  return key
    .slice(lineId.length + 1)
    .split(':')
    .slice(2)
    .join(':');
}

/** More marks than this in a strip are a smear, and slow a phone down. */
const MOST_POINTS = 300;

/** The stretch of the line that is shown: all of it, or as much about a chainage as a strip can hold. */
function windowAbout(chainageM: number, strips: readonly (readonly MidpointFinding[])[], whole: Range): Range {
  let reachM = Infinity;
  for (const strip of strips) {
    const away = strip.map((finding) => Math.abs(finding.chainageM - chainageM)).sort((p, q) => p - q);
    reachM = Math.min(reachM, away[MOST_POINTS] ?? Infinity);
  }
  return [Math.max(whole[0], chainageM - reachM), Math.min(whole[1], chainageM + reachM)];
}

/** The profile of a line for some spacings (m), of the same kind as a reading of it. */
export function profileData(
  line: LineFindings,
  like: MidpointFinding,
  spacingsM: readonly (number | null)[],
  settings: Pick<Settings, 'zThreshold' | 'ratioBreaks' | 'ratioBreaksTwoProbe'>,
): ProfileData {
  const twoProbe = isTwoProbe(like.hookup);
  const kind = profileKind(like);
  const own = line.midpoints.filter((finding) => profileKind(finding) === kind);
  const strips = spacingsM.map((spacingM) => own.filter((finding) => sameSpacing(finding.spacingM, spacingM)));
  const corners = line.track.filter(({ corner }) => corner).map(({ chainageM }) => chainageM);
  const whole = extent([...corners, ...own.map(({ chainageM }) => chainageM)]);
  const [fromM, toM] = windowAbout(like.chainageM, strips, whole);
  const shown = (chainageM: number): boolean => chainageM >= fromM && chainageM <= toM;
  const probes = line.electrodes.flatMap(({ role, chainageM }) =>
    role === 'probe' && chainageM !== null ? [chainageM] : [],
  );
  return {
    line: line.name,
    hookup: like.hookup,
    twoProbe,
    fromM,
    toM,
    bendsM: corners.slice(1, -1).filter(shown),
    probesM: [...new Set(probes)].filter(shown).sort((p, q) => p - q),
    zThreshold: settings.zThreshold,
    whole: fromM === whole[0] && toM === whole[1],
    leastRatio: (twoProbe ? settings.ratioBreaksTwoProbe : settings.ratioBreaks)[0],
    strips: strips.map((strip, i) => ({
      spacingM: spacingsM[i] ?? null,
      points: strip
        .filter(({ chainageM }) => shown(chainageM))
        .sort((p, q) => p.chainageM - q.chainageM)
        .map(profilePoint),
    })),
  };
}

const extent = (chainages: readonly number[]): Range => [
  chainages.reduce((least, chainageM) => Math.min(least, chainageM), Infinity),
  chainages.reduce((most, chainageM) => Math.max(most, chainageM), -Infinity),
];

const sameSpacing = (p: number | null, q: number | null): boolean =>
  p === null || q === null ? p === q : Math.round(p * 1000) === Math.round(q * 1000);

function profilePoint(finding: MidpointFinding): ProfilePoint {
  const { figureAboveOhmM, referenceOhmM, aM, bM, mM, nM } = finding;
  return {
    sid: finding.key,
    chainageM: finding.chainageM,
    ratio: finding.ratio,
    ratioStandardError: finding.ratioStandardError,
    aboveRatio: figureAboveOhmM !== null && referenceOhmM !== null ? figureAboveOhmM / referenceOhmM : null,
    overRange: isOverRange(finding),
    key: markKey(finding),
    probesM: [...new Set([aM, bM, mM, nM].filter((chainageM) => chainageM !== null))].sort((p, q) => p - q),
  };
}
