import { appraise } from '../appraise';
import { AUDIENCES } from '../discretion/audience';
import { settingsAsWritten } from '../evidence/settings';
import { layerPieces } from '../exchange/write/geojson';
import { LAYER_NAMES } from '../exchange/write/layer-collection';
import { buildLayers } from '../exchange/write/layers';
import { projectedColumns } from '../exchange/write/projected';
import type { Findings, MidpointFinding } from '../findings';
import { createVoidTable } from '../ground/void-table';
import { searchSurvey } from '../studies/search-survey';
import { hashOf } from '../survey/hash';
import { HOOKUP_LABEL, isTwoProbe } from '../survey/hookup';
import { type Note, noteAsWritten } from '../survey/note';
import type { Survey } from '../survey/survey';
import { counted, metres, nameList, ratioText } from '../survey/wording';
import { compareWith, hidingAsIn } from './compare-files';
import { discloseFor } from './disclose-for';
import { faultOf, printable } from './faults';
import { karstFiles } from './karst-files';
import { COLUMNS_HELP, JSON_HELP, oneOf, onePath, parsed, SURVEY_HELP } from './options';
import { progress } from './progress';
import { readSurvey } from './read-survey';
import { searchDocument, searchText } from './search-document';
import { settingsFor } from './settings-for';
import { type OutputFile, writeFiles } from './write-files';

export const MAP_HELP = `hollowline map SURVEY --out DIR [--crs EPSG:n] [--depth-rule median|half-spacing]
               [--drape midpoint|probes] [--search] [--compare EARLIER] [--audience WHO]
               [--settle FILE] [--columns MAP.json] [--json]

  The main job: compares every reading with its reference and prints what stands out. Writes GeoJSON
  files (RFC 7946, WGS 84) into the folder DIR: lines, controls, electrodes, midpoints, segments,
  corridors, zones, the next readings worth taking, karst features and their setbacks; and about.json.
${SURVEY_HELP}
  --out DIR           the folder to write into; it is made where there is none
  --crs EPSG:n        adds easting_m, northing_m and epsg to what has one place
  --depth-rule RULE   median: median depth of uniform ground, the usual choice here;
                      half-spacing: half the spacing, as is common practice
  --drape WHERE       midpoint: segments lie at the midpoints; probes: at both probes of each reading
  --search            also searches every line, and lines near each other together, for a void: all
                      readings at once, against uneven soil and scatter. Slow: up to some minutes.
                      What it finds, and how small a void it would have found, is in about.json
  --compare EARLIER   an earlier survey of the same ground, before works or in another season. Adds
                      changes.geojson and changes.csv: each pair of readings, the change and its error
  --audience WHO      surveyor (everything, exact; the usual choice), keeper, planner or public. For
                      others than the surveyor, features are shown as their classes of confidentiality
                      say; "hollowline share --help" says how
  --settle FILE       your decision about each thing that could give a hidden place away. Nothing is
                      written before all are decided; "hollowline share --help" shows the file
${COLUMNS_HELP}
${JSON_HELP}

  Outside the corridors nothing was surveyed: that is not the same as safe. Two-probe readings are
  hints (places to look at again), not findings; they have no depth and exclude no void.

  Example: hollowline map demo-data --out out --crs EPSG:32615`;

const STRONGEST = 8;
const RANK = { none: 0, slight: 1, clear: 2, strong: 3 } as const;

/** `hollowline map`: writes the layers, prints a summary; exit 0. */
export function map(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    out: { type: 'string' },
    crs: { type: 'string' },
    'depth-rule': { type: 'string' },
    drape: { type: 'string' },
    search: { type: 'boolean' },
    compare: { type: 'string' },
    audience: { type: 'string' },
    settle: { type: 'string' },
    columns: { type: 'string' },
    json: { type: 'boolean' },
  });
  const path = onePath(positionals, 'survey');
  if (!values.out) throw faultOf('arguments', '--out', '', 'a folder to write into');
  const drape = oneOf(values.drape, ['midpoint', 'probes'], '--drape', 'midpoint');
  const projected =
    values.crs === undefined ? null : projectedColumns(/^\d+$/.test(values.crs) ? `EPSG:${values.crs}` : values.crs);
  if (projected && !projected.ok) {
    throw faultOf('arguments', '--crs', values.crs ?? '', `a usable system: ${projected.sentence}`);
  }

  const { survey, notes, inputs } = readSurvey(path, values.columns);
  const own = settingsFor(survey);
  const settings = {
    ...own,
    depthRule: oneOf(values['depth-rule'], ['median', 'half_spacing'], '--depth-rule', own.depthRule),
  };
  const unsearched = appraise(survey, settings);
  const searched = values.search ? searchSurvey(survey, unsearched, createVoidTable, progress('search')) : null;
  const findings = searched ? appraise(survey, settings, undefined, { searches: searched.results }) : unsearched;
  const audience = oneOf(values.audience, AUDIENCES, '--audience', 'surveyor');
  const { disclosed } = discloseFor(survey, findings, audience, values.settle);
  const layers = buildLayers(disclosed, { drape, projected: projected?.value ?? null });
  const summary = summaryOf(survey, findings, notes);
  const files: OutputFile[] = [
    ...LAYER_NAMES.map((name) => ({ name: `${name}.geojson`, text: layerPieces(layers[name]) })),
    ...karstFiles(disclosed),
  ];
  const compared =
    values.compare === undefined
      ? null
      : compareWith(values.compare, values.columns, disclosed, (before, found) =>
          discloseFor(hidingAsIn(survey, before), found, audience, values.settle),
        );
  if (compared) files.push(...compared.files);
  const about = {
    ...aboutOf(disclosed.survey, disclosed.findings, hashOf(audience === 'surveyor' ? survey : disclosed.survey)),
    audience,
    ...(disclosed.withheld.length > 0 && { withheld: disclosed.withheld }),
    drape,
    features: Object.fromEntries(LAYER_NAMES.map((name) => [name, layers[name].features.length])),
    // A search names every line that was searched, also those that others may not see.
    ...(searched && audience === 'surveyor' && { search: searchDocument(searched) }),
    ...(compared && { comparison: compared.document }),
  };
  files.push({ name: 'about.json', text: `${JSON.stringify(about, null, 2)}\n` });
  writeFiles(values.out, files, compared ? [...inputs, ...compared.inputs] : inputs);

  if (values.json) print(JSON.stringify({ summary, files: files.map(({ name }) => name), about }, null, 2));
  else
    print(
      summaryText(
        survey,
        findings,
        summary,
        [...(searched ? searchText(searched) : []), ...(compared?.lines ?? [])],
        `${files.map(({ name }) => name).join(', ')} written to ${values.out}`,
      ),
    );
  return 0;
}

/** What the files were computed from and how. */
function aboutOf(survey: Survey, findings: Findings, surveySha256: string): object {
  const { programVersion, settings } = findings.provenance;
  return {
    site: survey.site.name,
    // Tables have no place to say it: null is not said.
    invented: survey.site.invented ?? null,
    review_status: survey.site.review_status,
    program_version: programVersion,
    survey_sha256: surveySha256,
    settings: settingsAsWritten(settings),
    meaning:
      'Readings do not prove or rule out a void. A high at close spacing and a low at wide spacing can be the same hollow. Outside the corridors is not surveyed, never safe.',
  };
}

function strongestOf(findings: Findings): readonly { line: string; midpoint: MidpointFinding }[] {
  return findings.lines
    .flatMap((line) => line.midpoints.map((midpoint) => ({ line: line.name, midpoint })))
    .filter(({ midpoint }) => midpoint.grade !== null && midpoint.grade !== 'none')
    .sort((p, q) => {
      const twoProbe = Number(isTwoProbe(p.midpoint.hookup)) - Number(isTwoProbe(q.midpoint.hookup));
      const grade = RANK[q.midpoint.grade ?? 'none'] - RANK[p.midpoint.grade ?? 'none'];
      return twoProbe || grade || Math.abs(q.midpoint.zScore ?? 0) - Math.abs(p.midpoint.zScore ?? 0);
    })
    .slice(0, STRONGEST);
}

function summaryOf(survey: Survey, findings: Findings, notes: readonly Note[]) {
  return {
    site: survey.site.name,
    lines: findings.lines.length,
    readings: survey.readings.filter(({ retired }) => !retired).length,
    references: survey.references.filter(({ retired }) => !retired).length,
    without_reference: [
      ...new Set(findings.references.filter(({ kind }) => kind === 'site_median').map(({ hookup }) => hookup)),
    ],
    doubts: findings.doubts.length,
    notes: notes.map(noteAsWritten),
    unplaced: findings.unplaced.map(({ sentence }) => sentence),
    unusable: findings.unusable.length,
    zones: findings.zones.map(({ name, verdict, basis, paragraph }) => ({ name, verdict, basis, paragraph })),
    next_readings: findings.nextReadings.map(({ sentence }) => sentence),
    strongest: strongestOf(findings).map(({ line, midpoint }) => ({
      line,
      chainage_m: midpoint.chainageM,
      spacing_m: midpoint.spacingM,
      hookup: midpoint.hookup,
      ratio: midpoint.ratio,
      ratio_standard_error: midpoint.ratioStandardError,
      grade: midpoint.grade,
      sign: midpoint.sign,
      lon: Number(midpoint.lon.toFixed(7)),
      lat: Number(midpoint.lat.toFixed(7)),
      position_uncertainty_95_m: Number(midpoint.uncertainty95M.toFixed(2)),
      doubts: midpoint.doubts,
    })),
  };
}

function summaryText(
  survey: Survey,
  findings: Findings,
  summary: ReturnType<typeof summaryOf>,
  searched: readonly string[],
  written: string,
): string {
  const invented = survey.site.invented ? ' (an invented site)' : '';
  const lines = [
    `${survey.site.name}${invented}: ${counted(summary.lines, 'line')}, ${counted(summary.readings, 'reading')}, ${counted(summary.references, 'reference')}.`,
  ];
  for (const hookup of summary.without_reference) {
    lines.push(`No reference for ${HOOKUP_LABEL[hookup]}: compared with the site's own median.`);
  }
  lines.push(...summary.unplaced.map((sentence) => `Not placed: ${sentence}`));
  if (summary.unusable > 0)
    lines.push(`${counted(summary.unusable, 'reading')} could not be used; "hollowline check" says why.`);
  lines.push('', summary.strongest.length > 0 ? 'Strongest segments' : 'No graded segments.');
  for (const strong of summary.strongest) {
    const spacing = strong.spacing_m === null ? '' : `, spacing ${metres(strong.spacing_m)}`;
    const hint = isTwoProbe(strong.hookup) ? ' (two-probe hint: mostly contact, no depth)' : '';
    const error = ratioText(strong.ratio_standard_error ?? 0);
    const doubts = strong.doubts.length > 0 ? `; doubts: ${strong.doubts.join(', ')}` : '';
    lines.push(
      `  line ${strong.line} at ${metres(strong.chainage_m)}${spacing}: ${ratioText(strong.ratio ?? 1)} ± ${error} of the reference, ${strong.grade}${hint}`,
      `    ${strong.lat.toFixed(6)}, ${strong.lon.toFixed(6)} ± ${metres(strong.position_uncertainty_95_m)} (95 %)${doubts}`,
    );
  }
  if (searched.length > 0) lines.push('', ...searched);
  if (summary.zones.length > 0) lines.push('', 'Zones', ...summary.zones.map(({ paragraph }) => `  ${paragraph}`));
  if (summary.next_readings.length > 0) {
    lines.push('', 'Worth reading next', ...summary.next_readings.map((sentence, i) => `  ${i + 1}. ${sentence}`));
  }
  const { target } = findings.provenance.settings;
  const seen = findings.lines.some(({ corridors }) => corridors.length > 0);
  const sized = `an air-filled chamber of radius ${metres(target.radiusM)}, centre ${metres(target.depthToCentreM)} down`;
  lines.push(
    '',
    `${seen ? `Corridors are for ${sized}.` : `No corridor: ${sized}, would not have shown.`} Elsewhere is not surveyed, never safe.`,
  );
  const twoProbe = findings.lines.filter(({ hookups }) => hookups.some(isTwoProbe)).map(({ name }) => name);
  if (twoProbe.length > 0) lines.push(`Two-probe (${nameList(twoProbe)}): no void size can be excluded.`);
  lines.push(
    `${counted(summary.doubts, 'doubt')}${summary.notes.length > 0 ? ` and ${counted(summary.notes.length, 'note')} from reading the files` : ''}: see "hollowline check".`,
    written,
  );
  return lines.map(printable).join('\n');
}
