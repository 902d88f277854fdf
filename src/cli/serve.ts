import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { contentType } from './content-type';
import { SECURITY_HEADERS } from './security-headers';
import { servedFile } from './served-file';

export interface ServeOptions {
  /** The built app. */
  readonly distDir: string;
  /** A survey document to open instead of the one that the app brings along. */
  readonly surveyJson?: Uint8Array | string;
  /** The first port to try; 0 = any free one. */
  readonly port: number;
  /** Only this machine: a survey may hold places that are not for everyone. */
  readonly host: '127.0.0.1';
}

export interface Served {
  /** The address to open, with the survey where one was given. */
  readonly url: string;
  readonly port: number;
  close(): Promise<void>;
}

const SURVEY_PATH = '/survey.json';
const PORTS_TRIED = 20;

/** Serves the built app to this machine. Resolves once it answers; rejects with a sentence when it cannot. */
export async function serveApp(options: ServeOptions): Promise<Served> {
  if (!(await servedFile(options.distDir, '/').catch(() => null))) {
    throw new Error(`There is no built app in ${options.distDir}. Build it first: npm run build`);
  }
  const survey = options.surveyJson === undefined ? null : Buffer.from(options.surveyJson);
  const server = createServer((request, response) => {
    answer(request, response, options, survey).catch(() => {
      if (!response.headersSent) plain(response, 500, 'The file could not be read.');
      else response.destroy();
    });
  });
  const port = await listen(server, options.port, options.host);
  const base = `http://${options.host}:${port}/`;
  return {
    url: survey ? `${base}?survey=${SURVEY_PATH.slice(1)}` : base,
    port,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  options: ServeOptions,
  survey: Buffer | null,
): Promise<void> {
  if (!isOurHost(request.headers.host, options.host)) {
    return plain(response, 421, 'This server answers only to its own address.');
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    return plain(response, 405, 'Only GET and HEAD.');
  }
  const path = (request.url ?? '/').split(/[?#]/, 1)[0] ?? '/';
  const headOnly = request.method === 'HEAD';
  if (path === SURVEY_PATH && survey) {
    response.writeHead(200, {
      ...SECURITY_HEADERS,
      'Content-Type': contentType(SURVEY_PATH),
      'Content-Length': survey.length,
    });
    response.end(headOnly ? undefined : survey);
    return;
  }
  const file = await servedFile(options.distDir, path);
  if (!file) return plain(response, 404, 'Nothing here.');
  const { size } = await stat(file);
  response.writeHead(200, { ...SECURITY_HEADERS, 'Content-Type': contentType(file), 'Content-Length': size });
  if (headOnly) {
    response.end();
    return;
  }
  await new Promise<void>((resolve, reject) => {
    const stream = createReadStream(file);
    stream.on('error', reject);
    response.on('close', () => {
      stream.destroy();
      resolve();
    });
    stream.pipe(response);
  });
}

/** Another site's name that was made to point here is not answered, so that no foreign page can read the survey. */
function isOurHost(header: string | undefined, host: string): boolean {
  const name = (header ?? '').replace(/:\d+$/, '');
  return name === host || name === 'localhost';
}

function plain(response: ServerResponse, status: number, sentence: string): void {
  response.writeHead(status, { ...SECURITY_HEADERS, 'Content-Type': 'text/plain; charset=utf-8' });
  response.end(`${sentence}\n`);
}

async function listen(server: Server, firstPort: number, host: string): Promise<number> {
  const last = firstPort === 0 ? 0 : Math.min(65535, firstPort + PORTS_TRIED - 1);
  for (let port = firstPort; port <= last; port += 1) {
    const got = await tryPort(server, port, host);
    if (got !== null) return got;
  }
  throw new Error(`Ports ${firstPort} to ${last} are all taken. Name another one.`);
}

/** The port it listens on; null when that one is taken or not ours to use. */
function tryPort(server: Server, port: number, host: string): Promise<number | null> {
  return new Promise((resolve, reject) => {
    const onError = (error: NodeJS.ErrnoException) => {
      server.off('listening', onListening);
      if (error.code === 'EADDRINUSE' || error.code === 'EACCES') resolve(null);
      else reject(error);
    };
    const onListening = () => {
      server.off('error', onError);
      const address = server.address();
      resolve(typeof address === 'object' && address ? address.port : port);
    };
    server.once('error', onError);
    server.once('listening', onListening);
    server.listen(port, host);
  });
}
