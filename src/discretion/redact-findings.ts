import type { Findings, LineFindings, MidpointFinding, ZoneFinding } from '../findings';
import type { DoubtCode } from '../survey/doubt';
import { isTwoProbe } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import type { Survey } from '../survey/survey';
import { forOutsiders } from '../survey/zone-steps';
import { type Audience, isOutside } from './audience';
import type { Cuts } from './cuts';
import { idsIn } from './fresh-ids';
import type { Protected } from './protected';
import { renamer } from './renamed-lines';

/** Doubts that say how far an opening lies from a line. */
const TELLS_OPENINGS: readonly DoubtCode[] = ['near_opening'];

/** The findings as an audience may see them, of a survey and of what of it was redacted already. */
export function redactFindings(
  findings: Findings,
  survey: Survey,
  shown: Survey,
  audience: Audience,
  hidden: readonly Protected[],
  cuts: Cuts,
): Findings {
  const outside = isOutside(audience);
  const names = new Map(shown.lines.map(({ id, name }) => [id, name]));
  const outings = new Set<string>(shown.outings.map(({ id }) => id));
  const sees = (id: LineId): boolean => !cuts.lines.has(id);
  const hiddenIds = new Set<string>(hidden.map(({ feature }) => feature.id));
  const noRemotes = cuts.remotes.size > 0;
  // Any doubt about an opening may be about a hidden one: all of them go where one is hidden.
  const tells = (code: DoubtCode): boolean => (outside || hidden.length > 0) && TELLS_OPENINGS.includes(code);
  const zones = findings.zones.filter(({ key, lines }) => !cuts.zones.has(key) && lines.every(sees));
  const kept = new Set(zones.map(({ key }) => key));
  const renumbered = zones.length < findings.zones.length ? numberedAnew(zones) : null;
  // What stands beside a line is quoted by its name.
  const quoted = new Set(survey.surroundings.flatMap(({ name }) => (name ? [` (${name})`] : [])));
  for (const { name } of shown.surroundings) if (name) quoted.delete(` (${name})`);
  const renamed = new Map(
    findings.lines.flatMap(({ lineId, name }) => {
      const now = names.get(lineId);
      return now !== undefined && now !== name ? [[name, now] as const] : [];
    }),
  );
  const inNewNames = renamer(
    renamed,
    findings.lines.map(({ name }) => name),
  );
  // Drift is told by the day's own name.
  const daysNow = new Map(shown.outings.map(({ id, name }) => [id, name]));
  const days = survey.outings.flatMap(({ id, name }) => {
    const now = daysNow.get(id) ?? 'a day';
    return now === name || name === '' ? [] : [[`, ${name}: `, `, ${now}: `] as const];
  });
  const said = (text: string): string => {
    let out = inNewNames(text);
    for (const [before, now] of days) out = out.replaceAll(before, now);
    if (text.includes(' (')) for (const quote of quoted) out = out.replaceAll(quote, '');
    return renumbered === null ? out : out.replace(ZONE_NAME, (name) => renumbered.get(name) ?? name);
  };
  const isOfCut = ({ id }: { readonly id: string }): boolean =>
    (cuts.surroundings.size > 0 || hidden.length > 0) &&
    idsIn(id).some((each) => cuts.surroundings.has(each) || hiddenIds.has(each));
  return {
    ...findings,
    lines: findings.lines
      .filter(({ lineId }) => sees(lineId))
      .map((line) => redactLine(line, names.get(line.lineId) ?? line.name, outside, noRemotes, tells)),
    doubts: findings.doubts
      .filter((doubt) => (doubt.line === null || sees(doubt.line)) && !tells(doubt.code) && !isOfCut(doubt))
      .map((doubt) => ({ ...doubt, sentence: said(doubt.sentence), remedy: said(doubt.remedy) })),
    zones: zones.map(
      (zone): ZoneFinding => ({
        ...zone,
        name: renumbered?.get(zone.name) ?? zone.name,
        doubts: zone.doubts.filter((code) => !tells(code)),
        paragraph: outside ? forOutsiders(said(zone.paragraph)) : said(zone.paragraph),
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

const ZONE_NAME = /\bZone \d+\b/g;

/** A gap between the numbers would say where along a line something was left out. */
const numberedAnew = (zones: readonly ZoneFinding[]): ReadonlyMap<string, string> =>
  new Map(zones.flatMap(({ name }, i) => (/^Zone \d+$/.test(name) ? [[name, `Zone ${i + 1}`] as const] : [])));

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
    // A hint is no finding: outsiders see that there was a reading, and the zone that it helped to make.
    ...(isTwoProbe(midpoint.hookup) ? { grade: null, sign: null } : {}),
  };
}
