import { CAUTIONS } from '../survey/cautions';
import { surveyJsonSchema } from '../survey/versions';
import { CHECK_HELP, check } from './check';
import { asFileFault, BadInput, faultOf } from './faults';
import { INVENTORY_HELP, inventory } from './inventory';
import { MAP_HELP, map } from './map';
import { PLAN_HELP, plan } from './plan';
import { SECTION_HELP, section } from './section';
import { SERVE_HELP, serve } from './serve-verb';
import { SHARE_HELP, share } from './share';
import { SOUNDING_HELP, sounding } from './sounding';

type Verb = (args: readonly string[], print: (text: string) => void) => number | Promise<number>;

const SCHEMA_HELP = `hollowline schema

  Prints the JSON Schema of *.survey.json, for programs that read or write surveys.

  Example: hollowline schema > survey.schema.json`;

const schema: Verb = (_args, print) => {
  print(JSON.stringify(surveyJsonSchema(), null, 2));
  return 0;
};

const VERBS: Record<string, { run: Verb; help: string; about: string }> = {
  check: { run: check, help: CHECK_HELP, about: 'what is doubtful, and what to do about it' },
  map: { run: map, help: MAP_HELP, about: 'the main job: what stands out, as layers for a map' },
  sounding: { run: sounding, help: SOUNDING_HELP, about: 'what one ladder can say: contact, layers, void' },
  section: { run: section, help: SECTION_HELP, about: 'the resistivity of the ground under a line' },
  plan: { run: plan, help: PLAN_HELP, about: 'what a ground or a void would read, and how to look for it' },
  inventory: { run: inventory, help: INVENTORY_HELP, about: 'karst features of many files: joined, compared, counted' },
  share: { run: share, help: SHARE_HELP, about: 'a pack for a planner, a keeper or the public' },
  serve: { run: serve, help: SERVE_HELP, about: 'the app, on this machine only' },
  schema: { run: schema, help: SCHEMA_HELP, about: 'the JSON Schema of a survey, for other programs' },
};

const ENDING = `  In the folder of the program, type "npm run -s hollowline -- VERB …" for "hollowline VERB …".

Cautions
${CAUTIONS.map((caution) => `  ${caution}`).join('\n')}`;

const HELP = `hollowline: ground-resistivity readings over karst, on a map, with what they can and cannot mean

${Object.entries(VERBS)
  .map(([verb, { about }]) => `  hollowline ${verb.padEnd(9)} ${about}`)
  .join('\n')}

  hollowline VERB --help says what a verb needs, with an example.
  Exit code 0: done. 1: done, with doubts (check --strict only). 2: bad input. Then nothing is written,
  and each fault is one line: FILE:ROW:COLUMN: read "…"; expected …

  Example: hollowline map demo-data --out out
${ENDING}`;

/** Runs one command. `print`: a line of what was asked for; `complain`: of what is wrong. Gives the exit code. */
export async function commandLine(
  args: readonly string[],
  print: (text: string) => void,
  complain: (text: string) => void,
): Promise<number> {
  try {
    return await run(args, print);
  } catch (error) {
    const fault = error instanceof BadInput ? error : asFileFault(error);
    if (!fault) throw error;
    complain(fault.lines.join('\n'));
    return 2;
  }
}

async function run([verb = '--help', ...rest]: readonly string[], print: (text: string) => void): Promise<number> {
  if (verb === '--help' || verb === '-h' || verb === 'help') {
    print(HELP);
    return 0;
  }
  const known = Object.hasOwn(VERBS, verb) ? VERBS[verb] : undefined;
  if (!known) throw faultOf('arguments', '1', verb, `one of ${Object.keys(VERBS).join(', ')}`);
  if (rest.includes('--help') || rest.includes('-h')) {
    print(`${known.help}\n${ENDING}`);
    return 0;
  }
  return known.run(rest, print);
}
