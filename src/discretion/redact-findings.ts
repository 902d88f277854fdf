import type { Findings, LineFindings, MidpointFinding, ZoneFinding } from '../findings';
import type { DoubtCode } from '../survey/doubt';
import { isTwoProbe } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import type { Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import type { Cuts } from './cuts';
import type { Protected } from './protected';

/** Doubts that say how far an opening lies from a line. */
const TELLS_OPENINGS: readonly DoubtCode[] = ['near_opening'];

/** The findings as an audience may see them, of a survey that was redacted already. */
export function redactFindings(
  findings: Findings,
  shown: Survey,
  audience: Audience,
  hidden: readonly Protected[],
  cuts: Cuts,
): Findings {
  const outside = isOutside(audience);
  const names = new Map(shown.lines.map(({ id, name }) => [id, name]));
  const outings = new Set<string>(shown.outings.map(({ id }) => id));
  const sees = (id: LineId): boolean => !cuts.lines.has(id);
  const noRemotes = cuts.remotes.size > 0;
  // Any doubt about an opening may be about a hidden one: all of them go where one is hidden.
  const tells = (code: DoubtCode): boolean => (outside || hidden.length > 0) && TELLS_OPENINGS.includes(code);
  const zones = findings.zones.filter(({ key, lines }) => !cuts.zones.has(key) && lines.every(sees));
  const kept = new Set(zones.map(({ key }) => key));
  const renamed = new Map(
    findings.lines.flatMap(({ lineId, name }) => {
      const now = names.get(lineId);
      return now !== undefined && now !== name ? [[name, now] as const] : [];
    }),
  );
  const said = (text: string): string => {
    let out = text;
    for (const [before, now] of renamed)
      out = out.replaceAll(`line ${before}`, `line ${now}`).replaceAll(`Line ${before}`, `Line ${now}`);
    return out;
  };
  return {
    ...findings,
    lines: findings.lines
      .filter(({ lineId }) => sees(lineId))
      .map((line) => redactLine(line, names.get(line.lineId) ?? line.name, outside, noRemotes, tells)),
    doubts: findings.doubts
      .filter(({ line, code }) => (line === null || sees(line)) && !tells(code))
      .map((doubt) => ({ ...doubt, sentence: said(doubt.sentence), remedy: said(doubt.remedy) })),
    zones: zones.map(
      (zone): ZoneFinding => ({
        ...zone,
        doubts: zone.doubts.filter((code) => !tells(code)),
        paragraph: said(zone.paragraph),
        outings: zone.outings.filter((id) => outings.has(id)),
      }),
    ),
    // Where nobody is to put a probe shows where an opening is: outsiders take no readings anyway.
    nextReadings:
      hidden.length > 0 || outside
        ? []
        : findings.nextReadings
            .filter(({ zone, lineId }) => kept.has(zone) && sees(lineId))
            .map((next) => ({ ...next, sentence: said(next.sentence) })),
    ...(findings.crossings ? { crossings: findings.crossings.filter(({ lines }) => lines.every(sees)) } : {}),
    searchedLines: findings.searchedLines.filter(sees),
    findable: findings.findable.filter(({ lineId }) => sees(lineId)),
    unusable: outside ? [] : findings.unusable.filter(({ line }) => sees(line)),
    unplaced: findings.unplaced
      .filter(({ lineId }) => sees(lineId))
      .map((each) => ({ ...each, name: names.get(each.lineId) ?? each.name, sentence: said(each.sentence) })),
  };
}

function redactLine(
  line: LineFindings,
  name: string,
  outside: boolean,
  noRemotes: boolean,
  tells: (code: DoubtCode) => boolean,
): LineFindings {
  return {
    ...line,
    name,
    electrodes: line.electrodes.filter(({ role }) => !(noRemotes && role === 'remote')),
    controls: outside ? line.controls.map((control) => ({ ...control, source: null })) : line.controls,
    midpoints: line.midpoints.map((midpoint) => redactMidpoint(midpoint, outside, tells)),
  };
}

function redactMidpoint(
  midpoint: MidpointFinding,
  outside: boolean,
  tells: (code: DoubtCode) => boolean,
): MidpointFinding {
  const doubts = midpoint.doubts.some(tells) ? midpoint.doubts.filter((code) => !tells(code)) : midpoint.doubts;
  if (!outside) return doubts === midpoint.doubts ? midpoint : { ...midpoint, doubts };
  return {
    ...midpoint,
    doubts,
    measuredAt: midpoint.measuredAt?.slice(0, 10) ?? null,
    // A lead is no finding: outsiders see that there was a reading, and the zone that it helped to make.
    ...(isTwoProbe(midpoint.hookup) ? { grade: null, sign: null } : {}),
  };
}
