import { createReadStream } from 'node:fs';
import { realpath, stat } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { relative } from 'node:path';
import type { Duplex } from 'node:stream';
import { contentType } from './content-type';
import { headersOf, SECURITY_HEADERS } from './security-headers';
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
/** A page asks for a dozen files at once. Whoever opens thousands of connections is left waiting, not the disk. */
const MOST_CONNECTIONS = 200;
const SLOWEST_REQUEST_MS = 20_000;

/** Serves the built app to this machine. Resolves once it answers; rejects with a sentence when it cannot. */
export async function serveApp(options: ServeOptions): Promise<Served> {
  if (!(await servedFile(options.distDir, '/').catch(() => null))) {
    throw new Error(`There is no built app in ${options.distDir}. Build it first: npm run build`);
  }
  const survey = options.surveyJson === undefined ? null : Buffer.from(options.surveyJson);
  const onRequest = (request: IncomingMessage, response: ServerResponse): void => {
    answer(request, response, options, survey).catch(() => {
      if (!response.headersSent) plain(response, 500, 'The file could not be read.');
      else response.destroy();
    });
  };
  const limits = { requestTimeout: SLOWEST_REQUEST_MS, headersTimeout: SLOWEST_REQUEST_MS };
  // A request without a host is refused by `answer`, with the policies, and not by Node without them.
  const server = createServer({ ...limits, requireHostHeader: false }, onRequest);
  server.maxConnections = MOST_CONNECTIONS;
  server.on('checkExpectation', onRequest);
  server.on('clientError', refuseRaw);
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
    // What is sent along is not waited for.
    response.setHeader('Connection', 'close');
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
  // By its place, so that a file of this name elsewhere gets no wider policy.
  const name = relative(await realpath(options.distDir), file);
  response.writeHead(200, { ...headersOf(name), 'Content-Type': contentType(file), 'Content-Length': size });
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

/** What is no request at all gets no `ServerResponse`: its answer, with the policies too, is written by hand. */
function refuseRaw(error: NodeJS.ErrnoException, socket: Duplex): void {
  if (!socket.writable || error.code === 'ECONNRESET') {
    socket.destroy();
    return;
  }
  const status = RAW_REFUSALS[error.code ?? ''] ?? '400 Bad Request';
  const headers = Object.entries({ ...SECURITY_HEADERS, 'Content-Length': '0', Connection: 'close' });
  socket.end(`HTTP/1.1 ${status}\r\n${headers.map(([name, value]) => `${name}: ${value}\r\n`).join('')}\r\n`);
}

const RAW_REFUSALS: Readonly<Record<string, string>> = {
  HPE_HEADER_OVERFLOW: '431 Request Header Fields Too Large',
  ERR_HTTP_REQUEST_TIMEOUT: '408 Request Timeout',
};

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
