import { basename, dirname } from 'node:path';
import { appraise } from '../appraise';
import { disclose } from '../discretion/disclose';
import { geojsonText } from '../exchange/write/geojson';
import { cellValues } from '../exchange/write/section-cell';
import { sectionLayer } from '../exchange/write/section-layer';
import { sectionCsv } from '../exchange/write/section-table';
import type { Findings } from '../findings';
import { sectionWords } from '../studies/line-words';
import { type SectionResult, section as sectionStudy } from '../studies/section';
import { sectionInputOf } from '../studies/section-input';
import { HOOKUP_LABEL, HOOKUPS, type Hookup } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import { nameList } from '../survey/wording';
import { faultOf, printable } from './faults';
import { COLUMNS_HELP, JSON_HELP, oneOf, onePath, parsed, SURVEY_HELP } from './options';
import { progress } from './progress';
import { readSurvey } from './read-survey';
import { settingsFor } from './settings-for';
import { writeFiles } from './write-files';

export const SECTION_HELP = `hollowline section SURVEY --line L [--out FILE.csv|FILE.geojson] [--hookup H]
                   [--columns MAP.json] [--json]

  The resistivity of the ground under a whole line, by depth: the smoothest ground that explains the
  readings. Takes up to a minute.
${SURVEY_HELP}
  --line L            name of the line
  --out FILE          writes the cells: .csv as a table; .geojson (RFC 7946, WGS 84) as one line for
                      each cell, along the path on the ground above it
  --hookup H          only readings of this hookup; without it, all but two-probe readings together
${COLUMNS_HELP}
${JSON_HELP}

  A line that was read with two probes only has no section: there is no resistivity in it.
  An air-filled void is seldom more than a blur. None in a section is no proof that there is none.

  Assumptions
  - The ground is the same to either side of the line. What lies beside it is drawn below it.
  - The smoothest ground that explains the readings is shown; edges are sharper in the ground.
  - Errors of the readings are as stated, 3 % at least unless the survey says otherwise. Readings that
    no section explains count for less, and are named.
  - coverage is 0 where the readings say nothing of a cell, 1 where it could not be better known.
    Cells of low coverage show what the start and the smoothing made of them, not the ground.

  Example: hollowline section demo-data --line A --out line-a.geojson`;

/** `hollowline section`: exit 0; a line without a section is bad input. */
export function section(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    line: { type: 'string' },
    out: { type: 'string' },
    hookup: { type: 'string' },
    columns: { type: 'string' },
    json: { type: 'boolean' },
  });
  const path = onePath(positionals, 'survey');
  const { line: lineName, out } = values;
  if (!lineName) throw faultOf('arguments', '--line', '', 'the name of a line');
  if (out !== undefined && !/\.(?:csv|geojson)$/i.test(out)) {
    throw faultOf('arguments', '--out', out, 'a file that ends in .csv or .geojson');
  }
  const hookup: Hookup | null =
    values.hookup === undefined ? null : oneOf(values.hookup, HOOKUPS, '--hookup', 'unknown');
  const { survey, inputs } = readSurvey(path, values.columns);
  const findings = appraise(survey, settingsFor(survey));
  const lineId = lineNamed(findings, lineName);
  const input = sectionInputOf(survey, findings, lineId, { hookup });
  if (!input.ok) throw faultOf('arguments', '--line', lineName, `a line with a section. ${input.sentence}`);
  const result = sectionStudy(input.value, progress('section'));
  if (!result.ok) throw faultOf('arguments', '--line', lineName, `a line with a section. ${result.sentence}`);
  if (out !== undefined) {
    const disclosed = disclose(survey, findings, 'surveyor');
    const { cells } = result.value;
    const text = /\.csv$/i.test(out)
      ? sectionCsv(disclosed, lineId, cells)
      : geojsonText(sectionLayer(disclosed, lineId, cells));
    writeFiles(dirname(out), [{ name: basename(out), text }], inputs);
  }
  print(
    values.json
      ? JSON.stringify(sectionDocument(result.value, out ?? null), null, 2)
      : sectionText(result.value, out ?? null),
  );
  return 0;
}

/** A line that has a place, else one that has none yet. Its study says why it has no section. */
function lineNamed(findings: Findings, name: string): LineId {
  const line = [...findings.lines, ...findings.unplaced].find((each) => each.name === name);
  if (line) return line.lineId;
  const names = nameList(findings.lines.map((each) => each.name));
  throw faultOf('arguments', '--line', name, `a line of this survey: ${names || 'it has none'}`);
}

const decimals = (value: number, places: number): number => Number(value.toFixed(places)) + 0;

/** The result as the contract of the command has it; keys beyond it only add. */
export function sectionDocument(result: SectionResult, file: string | null): object {
  return {
    line: result.line,
    hookups: result.hookups,
    chi_square_per_reading: decimals(result.chiSquarePerReading, 3),
    iterations: result.iterations,
    converged: result.converged,
    down_weighted: result.downWeighted,
    depth_limit_m: decimals(result.depthLimitM, 2),
    start_ohm_m: Number(result.startOhmM.toPrecision(4)),
    cells: result.cells.map(cellValues),
    readings: result.readings.map((reading) => ({
      id: reading.id,
      chainage_m: decimals(reading.chainageM, 3),
      depth_m: decimals(reading.depthM, 3),
      measured_ohm_m: Number(reading.measuredOhmM.toPrecision(5)),
      computed_ohm_m: Number(reading.computedOhmM.toPrecision(5)),
      residual_sigma: decimals(reading.residualSigma, 2),
      weight: decimals(reading.weight, 3),
    })),
    sentences: sectionWords(result),
    assumptions: result.remarks,
    file,
    key: result.key,
  };
}

function sectionText(result: SectionResult, file: string | null): string {
  const hookups = result.hookups.map((hookup) => HOOKUP_LABEL[hookup]).join(', ');
  const columns = new Set(result.cells.map(({ chainageFromM }) => chainageFromM)).size;
  const rows = new Set(result.cells.map(({ depthTopM }) => depthTopM)).size;
  return [
    `Line ${result.line}, ${hookups}: a section of ${columns} × ${rows} cells.`,
    ...sectionWords(result).map((sentence) => `  ${sentence}`),
    '',
    'Assumptions',
    ...result.remarks.map((sentence) => `  ${sentence}`),
    ...(file === null ? [] : ['', `${file} written`]),
  ]
    .map(printable)
    .join('\n');
}
