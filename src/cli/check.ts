import { appraise } from '../appraise';
import type { Findings } from '../findings';
import type { DoubtSeverity } from '../survey/doubt';
import { SEVERITY_WORDS } from '../survey/doubt-words';
import { type Note, noteAsWritten } from '../survey/note';
import type { Survey } from '../survey/survey';
import { counted, metres, ratioText } from '../survey/wording';
import { printable } from './faults';
import { COLUMNS_HELP, JSON_HELP, onePath, parsed, SURVEY_HELP } from './options';
import { readSurvey } from './read-survey';
import { settingsFor } from './settings-for';

export const CHECK_HELP = `hollowline check SURVEY [--columns MAP.json] [--strict] [--json]

  Says what is doubtful in a survey, and what to do about it: readings, positions, reference, hookup.
${SURVEY_HELP}
${COLUMNS_HELP}
  --strict            ends with exit code 1 where a doubt is left that is serious or to look at first
                      ("warning" in JSON), a line could not be placed or a reading could not be used
${JSON_HELP}

  "No doubts found" is not proof that there are none.

  Example: hollowline check demo-data`;

const SEVERITIES: readonly DoubtSeverity[] = ['serious', 'warning', 'note'];

/** `hollowline check`: exit 0, or 1 under --strict with warnings or serious doubts. */
export function check(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    columns: { type: 'string' },
    strict: { type: 'boolean' },
    json: { type: 'boolean' },
  });
  const { survey, notes } = readSurvey(onePath(positionals, 'survey'), values.columns);
  const findings = appraise(survey, settingsFor(survey));
  print(
    values.json ? JSON.stringify(checkDocument(survey, findings, notes), null, 2) : checkText(survey, findings, notes),
  );
  const serious =
    findings.doubts.some(({ severity }) => severity !== 'note') ||
    findings.unplaced.length > 0 ||
    findings.unusable.length > 0;
  return values.strict && serious ? 1 : 0;
}

const countOf = (findings: Findings, severity: DoubtSeverity): number =>
  findings.doubts.filter((doubt) => doubt.severity === severity).length;

export function checkDocument(survey: Survey, findings: Findings, notes: readonly Note[]): object {
  const names = new Map<string, string>(survey.lines.map((line) => [line.id, line.name]));
  return {
    summary: {
      site: survey.site.name,
      lines: findings.lines.length,
      readings: survey.readings.filter(({ retired }) => !retired).length,
      references: survey.references.filter(({ retired }) => !retired).length,
      doubts: Object.fromEntries(SEVERITIES.map((severity) => [severity, countOf(findings, severity)])),
      unplaced: findings.unplaced.map(({ name, sentence }) => ({ line: name, sentence })),
      unusable: findings.unusable.map(({ line, sentence }) => ({ line: names.get(line) ?? line, sentence })),
    },
    lines: findings.lines.map((line) => ({
      line: line.name,
      tape_gps_scale: line.tapeGpsScale,
      tape_gps_scale_error_95: line.tapeGpsScaleError95,
      controls: line.controls.map((control) => ({
        chainage_m: control.chainageM,
        residual_m: control.residualM,
        residual_sigma: control.residualSigma,
      })),
      levels: (line.levels ?? []).map(({ hookup, factor, standardErrorLn, stations, takenOut, sentence }) => ({
        hookup,
        factor,
        standard_error_ln: standardErrorLn,
        stations,
        taken_out: takenOut,
        sentence,
      })),
      graded: line.discovery
        ? {
            tested: line.discovery.tested,
            beyond_threshold: line.discovery.beyondThreshold,
            kept: line.discovery.kept,
          }
        : null,
    })),
    crossings: (findings.crossings ?? []).map(
      ({ lines, chainagesM, spacingM, hookup, ratio, standardErrorLn, agree }) => ({
        lines: lines.map((id) => names.get(id) ?? id),
        chainages_m: chainagesM.map((chainage) => Number(chainage.toFixed(2))),
        spacing_m: spacingM,
        hookup,
        ratio: Number(ratio.toFixed(4)),
        standard_error_ln: Number(standardErrorLn.toFixed(4)),
        agree,
      }),
    ),
    notes: notes.map(noteAsWritten),
    doubts: findings.doubts.map((doubt) => ({
      id: doubt.id,
      code: doubt.code,
      severity: doubt.severity,
      line: doubt.line === null ? null : (names.get(doubt.line) ?? doubt.line),
      chainage_m: doubt.chainageM,
      spacing_m: doubt.spacingM,
      sentence: doubt.sentence,
      remedy: doubt.remedy,
    })),
  };
}

function checkText(survey: Survey, findings: Findings, notes: readonly Note[]): string {
  const lines = [
    `${survey.site.name}: ${counted(findings.lines.length, 'line')}, ${counted(survey.readings.length, 'reading')}, ${counted(survey.references.length, 'reference')}.`,
    ...findings.unplaced.map(({ sentence }) => `Not placed: ${sentence}`),
    ...unusableLines(findings),
  ];
  for (const severity of SEVERITIES) {
    const doubts = findings.doubts.filter((doubt) => doubt.severity === severity);
    if (doubts.length === 0) continue;
    lines.push('', `${SEVERITY_WORDS[severity]} (${doubts.length})`);
    for (const { code, sentence, remedy } of doubts) lines.push(`  ${code}: ${sentence}`, `    ${remedy}`);
  }
  if (notes.length > 0) {
    lines.push('', `From reading the files (${notes.length})`, ...notes.map(({ sentence }) => `  ${sentence}`));
  }
  lines.push(...levelLines(findings), ...crossingLines(survey, findings));
  const flawless = findings.doubts.length + findings.unplaced.length + findings.unusable.length === 0;
  if (flawless) lines.push('', 'No doubts found. That is not proof that there are none.');
  return lines.map(printable).join('\n');
}

/** Lines whose whole level was taken out, since that changes every ratio of theirs. */
function levelLines({ lines }: Findings): readonly string[] {
  const taken = lines.flatMap(({ name, levels }) =>
    (levels ?? []).filter(({ takenOut }) => takenOut).map(({ sentence }) => `  line ${name}: ${sentence}`),
  );
  return taken.length > 0 ? ['', 'Levels taken out', ...taken] : [];
}

/** Crossing lines read the same ground twice: by hookup and spacing, whether they agree. */
function crossingLines(survey: Survey, { crossings = [] }: Findings): readonly string[] {
  const names = new Map<string, string>(survey.lines.map((line) => [line.id, line.name]));
  const told = crossings.map(({ lines: [p, q], spacingM, ratio, standardErrorLn, agree }) => {
    const pair = `lines ${names.get(p) ?? p} and ${names.get(q) ?? q}, spacing ${metres(spacingM)}`;
    return `  ${pair}: ×${ratioText(ratio)} ± ${ratioText(ratio * standardErrorLn)}, ${agree ? 'they agree' : 'they differ by more than their errors'}`;
  });
  return told.length > 0 ? ['', 'Crossings, ratio of the first line to the second', ...told] : [];
}

/** Readings that came to nothing, those with one reason together. */
function unusableLines({ unusable }: Findings): readonly string[] {
  const bySentence = new Map<string, number>();
  for (const { sentence } of unusable) bySentence.set(sentence, (bySentence.get(sentence) ?? 0) + 1);
  return Array.from(bySentence, ([sentence, count]) => `Not usable (${counted(count, 'reading')}): ${sentence}`);
}
