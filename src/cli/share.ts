import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import initSqlJs, { type SqlJsStatic } from 'sql.js';
import { appraise } from '../appraise';
import { AUDIENCE_WORDS, AUDIENCES } from '../discretion/audience';
import { createVoidTable } from '../ground/void-table';
import { packed } from '../handover/pack';
import { withheldSentences } from '../handover/withheld-words';
import { searchSurvey } from '../studies/search-survey';
import { noteAsWritten } from '../survey/note';
import { counted } from '../survey/wording';
import { wallDay } from '../wall-clock';
import { discloseFor } from './disclose-for';
import { faultOf, printable } from './faults';
import { giveBack } from './give-back';
import { COLUMNS_HELP, JSON_HELP, oneOf, onePath, parsed, SURVEY_HELP } from './options';
import { progress } from './progress';
import { readSurvey } from './read-survey';
import { settingsFor } from './settings-for';
import { writeOneFile } from './share-file';

export const SHARE_HELP = `hollowline share SURVEY --audience surveyor|keeper|planner|public --out PACK.zip [--settle FILE]
                 [--contact TEXT] [--licence TEXT] [--title TEXT] [--made-at TIME] [--search]
                 [--columns MAP.json] [--json]

  Makes a pack to hand over: one zip with a page that opens by itself, a report to print, layers as
  GeoJSON and GeoPackage, a dictionary of every property, metadata, checksums (SHA-256) and a README.
  For surveyor and keeper also KML, GPX, tables, styles and the survey.
${SURVEY_HELP}
  --audience WHO      surveyor: everything, exact
                      keeper: everything but what a class of confidentiality withholds
                      planner: the evidence, without names, notes and times of day
                      public: the same, with protected places hidden as their classes say
  --out PACK.zip      the zip to write
  --settle FILE       your decision about each thing that could give a protected place away:
                      [{"leak": "ID", "decision": "withhold" | "accept", "why": "…"}]
                      Nothing is written before all are decided. Run without it first: each is listed
  --contact TEXT      whom to ask
  --licence TEXT      terms of use, in your words
  --title TEXT        a title in place of the name of the site
  --made-at TIME      when it is made, as 2026-05-31 or 2026-05-31T14:00:00Z; without it, today. The same
                      survey and time give exactly the same file
  --search            first searches every line for a void, as "hollowline map" does. Slow
${COLUMNS_HELP}
${JSON_HELP}

  How exactly a feature is shown is said by its class, in site.discretion_classes of the survey:
    [{"name": "bats", "keeper": {"show": "exact"},
      "planner": {"show": "generalised", "grid_m": 1000}, "public": {"show": "withheld"},
      "protect_radius_m": 50, "cites": "the law or the owner's word"}]
  There are no classes of ours. You have to know and state what law asks and what the owner said.
  Examples of such law, none of them yours: 16 U.S.C. 4304 and 36 CFR 290.4 keep places of significant
  caves on United States federal land confidential.
  Unless a class says otherwise, planners and the public see no cave entrance and no shaft, and nothing
  whose owner said no.
  The check looks for names, numbers and coordinates in texts, and for what is shown near a hidden
  place. It cannot see what a picture shows, and knows no nicknames: read the pack before you give it
  away.

  Example: hollowline share demo-data --audience planner --out pack.zip --contact "Office of Works"`;

/** `hollowline share`: writes a pack; exit 0. Leaks that nobody settled are bad input, and nothing is written. */
export async function share(args: readonly string[], print: (text: string) => void): Promise<number> {
  const { values, positionals } = parsed(args, {
    audience: { type: 'string' },
    out: { type: 'string' },
    settle: { type: 'string' },
    contact: { type: 'string' },
    licence: { type: 'string' },
    title: { type: 'string' },
    'made-at': { type: 'string' },
    search: { type: 'boolean' },
    columns: { type: 'string' },
    json: { type: 'boolean' },
  });
  const path = onePath(positionals, 'survey');
  if (!values.out) throw faultOf('arguments', '--out', '', 'a zip to write, such as pack.zip');
  // For whom it is has no default: the wrong guess cannot be taken back.
  if (!values.audience) throw faultOf('arguments', '--audience', '', `one of ${AUDIENCES.join(', ')}`);
  const audience = oneOf(values.audience, AUDIENCES, '--audience', 'public');
  const { survey, notes, inputs } = readSurvey(path, values.columns);
  const settings = settingsFor(survey);
  const unsearched = appraise(survey, settings);
  const searched = values.search ? searchSurvey(survey, unsearched, createVoidTable, progress('search')) : null;
  const findings = searched ? appraise(survey, settings, undefined, { searches: searched.results }) : unsearched;
  const { disclosed, remember } = discloseFor(survey, findings, audience, values.settle, {
    title: values.title ?? null,
    contact: values.contact ?? null,
    licence: values.licence ?? null,
  });
  const madeAt = values['made-at'] ?? wallDay(new Date());
  const terms = {
    madeAt,
    contact: values.contact ?? null,
    licence: values.licence ?? null,
    title: values.title ?? null,
  };
  const pack = await packed(disclosed, terms, { sql: await loadSql(), tick: progress('share'), giveBack });
  if (!pack.ok) throw faultOf('share', pack.code, path, pack.sentence);
  const { zip, files } = pack.value;
  writeOneFile(values.out, zip, inputs);

  const document = {
    written: values.out,
    bytes: zip.length,
    audience,
    made_at: madeAt,
    files: files.map(({ name, bytes }) => ({ name, bytes })),
    withheld: disclosed.withheld,
    // To be kept with the survey, so that the next share does not tell more together with this one.
    remember: remember(madeAt),
    notes: notes.map(noteAsWritten),
  };
  if (values.json) print(JSON.stringify(document, null, 2));
  else {
    const lines = [
      `${counted(files.length, 'file')} for ${AUDIENCE_WORDS[audience]}`,
      ...withheldSentences(disclosed).map((sentence) => `  ${sentence}`),
      ...(values.contact ? [] : ['No --contact: nobody is named to ask.']),
      ...(values.licence ? [] : ['No --licence: whoever gets it has to ask before using it.']),
      `${values.out} written. Check it as its reader would: open page.html.`,
    ];
    print(lines.map(printable).join('\n'));
  }
  return 0;
}

/** SQLite from the package, with its WebAssembly read from beside it. */
function loadSql(): Promise<SqlJsStatic> {
  const wasm = createRequire(import.meta.url).resolve('sql.js/dist/sql-wasm.wasm');
  const bytes = readFileSync(wasm);
  return initSqlJs({
    wasmBinary: bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
  });
}
