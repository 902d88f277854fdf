import { fileURLToPath } from 'node:url';
import { faultOf } from './faults';
import { openBrowser } from './open-browser';
import { COLUMNS_HELP, parsed, SURVEY_HELP } from './options';
import { readSurvey } from './read-survey';
import { serveApp } from './serve';

export const SERVE_HELP = `hollowline serve [SURVEY] [--columns MAP.json] [--port N] [--open]

  Starts the app for this machine only and prints its address. Without SURVEY it shows the demo.
  It runs until you stop it with Ctrl+C. The app has to be built once: npm run build.
${SURVEY_HELP}
${COLUMNS_HELP}
  --port N            the first port to try; without it, 4173
  --open              also opens it in a browser

  Example: hollowline serve demo-data`;

const DIST = fileURLToPath(new URL('../../dist', import.meta.url));
const FIRST_PORT = 4173;

/** `hollowline serve`: runs until it is stopped. */
export async function serve(args: readonly string[], print: (text: string) => void): Promise<number> {
  const { values, positionals } = parsed(args, {
    columns: { type: 'string' },
    port: { type: 'string' },
    open: { type: 'boolean' },
  });
  if (positionals.length > 1) throw faultOf('arguments', '1', positionals.join(' '), 'one survey');
  const port = values.port === undefined ? FIRST_PORT : Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535) {
    throw faultOf('arguments', '--port', values.port ?? '', 'a port number from 0 to 65535');
  }
  const [path] = positionals;
  const survey = path === undefined ? null : readSurvey(path, values.columns).survey;
  const served = await serveApp({
    distDir: DIST,
    port,
    host: '127.0.0.1',
    ...(survey ? { surveyJson: JSON.stringify(survey) } : {}),
  }).catch((error: Error) => {
    throw faultOf('serve', '1', path ?? 'demo', `to be able to serve: ${error.message}`);
  });
  print(`Hollowline is at ${served.url}\nStop it with Ctrl+C.`);
  if (values.open) openBrowser(served.url);
  return 0;
}
