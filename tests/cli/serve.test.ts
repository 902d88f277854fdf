import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { connect, createServer, type Server } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { browserOpener } from '../../src/cli/open-browser';
import { type Served, serveApp } from '../../src/cli/serve';

let folder: string;
let distDir: string;
const open: { close(): Promise<void> }[] = [];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'serve-'));
  distDir = join(folder, 'dist');
  await mkdir(join(distDir, 'assets'), { recursive: true });
  await writeFile(join(distDir, 'index.html'), '<!doctype html><title>page</title>');
  await writeFile(join(distDir, 'assets', 'app.js'), 'export {};');
  await writeFile(join(distDir, 'assets', 'a b.css'), 'p{}');
  await writeFile(join(distDir, '.hidden'), 'hidden');
  await writeFile(join(folder, 'secret.txt'), 'secret');
  await symlink(join(folder, 'secret.txt'), join(distDir, 'link.txt'));
  await symlink(folder, join(distDir, 'up'));
});

afterEach(async () => {
  for (const served of open.splice(0)) await served.close();
});

afterAll(() => rm(folder, { recursive: true, force: true }));

async function serve(options: Partial<Parameters<typeof serveApp>[0]> = {}): Promise<Served> {
  const served = await serveApp({ distDir, port: 0, host: '127.0.0.1', ...options });
  open.push(served);
  return served;
}

interface Answer {
  readonly status: number;
  readonly headers: Record<string, string | string[] | undefined>;
  readonly text: string;
}

/** A request whose path goes out exactly as it is written. */
function ask(port: number, path: string, options: { method?: string; host?: string } = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const headers = { Host: options.host ?? `127.0.0.1:${port}` };
    const asked = request({ host: '127.0.0.1', port, path, method: options.method ?? 'GET', headers }, (response) => {
      const parts: Buffer[] = [];
      response.on('data', (part: Buffer) => parts.push(part));
      response.on('end', () =>
        resolve({
          status: response.statusCode ?? 0,
          headers: response.headers,
          text: Buffer.concat(parts).toString('utf8'),
        }),
      );
    });
    asked.on('error', reject);
    asked.end();
  });
}

/** Bytes as they are to a port, and what comes back until the connection ends. */
function raw(port: number, text: string): Promise<string> {
  return new Promise((resolve) => {
    const parts: Buffer[] = [];
    const socket = connect(port, '127.0.0.1', () => socket.write(text));
    socket.on('data', (part) => parts.push(part));
    socket.on('error', () => {});
    socket.on('close', () => resolve(Buffer.concat(parts).toString('utf8')));
  });
}

describe('serving the app', () => {
  it('answers with the page and its files, each with its type', async () => {
    const { port, url } = await serve();
    expect(url).toBe(`http://127.0.0.1:${port}/`);
    const page = await ask(port, '/');
    expect(page.status).toBe(200);
    expect(page.text).toContain('<title>page</title>');
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
    expect((await ask(port, '/assets/app.js?v=1')).headers['content-type']).toBe('text/javascript; charset=utf-8');
    expect((await ask(port, '/assets/a%20b.css')).text).toBe('p{}');
  });

  it('sends the policies with every answer, also with a refusal', async () => {
    const { port } = await serve();
    for (const path of ['/', '/assets/app.js', '/nothing']) {
      const { headers } = await ask(port, path);
      const policy = String(headers['content-security-policy']);
      expect(policy).toContain("default-src 'self'");
      expect(policy).toContain("frame-ancestors 'none'");
      // Pictures alone may come from text: a figure is drawn from its own SVG when it is saved as PNG. WebAssembly may
      // be compiled, which allows no script from text.
      expect(policy.replace("img-src 'self' data:", '').replace("'wasm-unsafe-eval'", '')).not.toMatch(
        /unsafe|blob:|data:|\*/,
      );
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['referrer-policy']).toBe('no-referrer');
      expect(headers['cross-origin-opener-policy']).toBe('same-origin');
      expect(headers['cache-control']).toBe('no-cache');
    }
  });

  it('never leaves its folder', async () => {
    const { port } = await serve();
    const ways = [
      '/../secret.txt',
      '/assets/../../secret.txt',
      '/..%2fsecret.txt',
      '/%2e%2e/secret.txt',
      '/..%5csecret.txt',
      '/assets/%00/../../../secret.txt',
      '//secret.txt/../../secret.txt',
      '/link.txt',
      '/up/secret.txt',
      '/.hidden',
      '/%E0%A4%A',
      '/assets',
      '/assets/',
    ];
    for (const way of ways) {
      const { status, text } = await ask(port, way);
      expect([way, status]).toEqual([way, 404]);
      expect(text).not.toContain('secret');
    }
  });

  it('only gives: nothing can be sent to it', async () => {
    const { port } = await serve();
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
      const { status, headers } = await ask(port, '/', { method });
      expect([method, status, headers.allow]).toEqual([method, 405, 'GET, HEAD']);
    }
    const head = await ask(port, '/assets/app.js', { method: 'HEAD' });
    expect([head.status, head.text, head.headers['content-length']]).toEqual([200, '', '10']);
  });

  it('does not answer to a foreign name that was pointed here', async () => {
    const { port } = await serve({ surveyJson: '{}' });
    expect((await ask(port, '/survey.json', { host: 'elsewhere.example' })).status).toBe(421);
    expect((await ask(port, '/survey.json', { host: `localhost:${port}` })).status).toBe(200);
  });

  it('gives a survey under its own address and opens the page with it', async () => {
    const { port, url } = await serve({ surveyJson: '{"name":"Ω"}' });
    expect(url).toBe(`http://127.0.0.1:${port}/?survey=survey.json`);
    const survey = await ask(port, '/survey.json');
    expect(survey.text).toBe('{"name":"Ω"}');
    expect(survey.headers['content-type']).toBe('application/json; charset=utf-8');
    const without = await serve();
    expect((await ask(without.port, '/survey.json')).status).toBe(404);
  });

  it('answers what is no request, or asks too much, with a refusal that has the policies too', async () => {
    const { port } = await serve({ surveyJson: '{"secret":1}' });
    const host = `Host: 127.0.0.1:${port}\r\nConnection: close\r\n`;
    const asked: readonly (readonly [string, string, number])[] = [
      ['noise', '\u0000\u0001 nothing\r\n\r\n', 400],
      ['no host', 'GET /survey.json HTTP/1.1\r\nConnection: close\r\n\r\n', 421],
      ['no host, as once', 'GET /survey.json HTTP/1.0\r\n\r\n', 421],
      ['two hosts', `GET /survey.json HTTP/1.1\r\nHost: evil.example\r\n${host}\r\n`, 421],
      ['a host that begins like ours', 'GET /survey.json HTTP/1.0\r\nHost: 127.0.0.1.evil.example\r\n\r\n', 421],
      ['another place in full', `GET http://evil.example/survey.json HTTP/1.1\r\n${host}\r\n`, 404],
      ['a very long address', `GET /${'a'.repeat(100_000)} HTTP/1.1\r\n${host}\r\n`, 431],
      ['two lengths', `GET / HTTP/1.1\r\n${host}Content-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n`, 400],
      ['an expectation', `POST / HTTP/1.1\r\n${host}Expect: the impossible\r\nContent-Length: 1\r\n\r\n`, 405],
      ['a body without end', `PUT / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 999999999\r\n\r\nx`, 405],
    ];
    for (const [what, text, status] of asked) {
      const answer = await raw(port, text);
      expect([what, answer.slice(0, 12)]).toEqual([what, `HTTP/1.1 ${status}`]);
      expect([what, answer]).toEqual([what, expect.stringMatching(/^Content-Security-Policy: default-src 'self'/m)]);
      expect(answer).not.toContain('secret');
    }
  });

  it('gives the whole file also to who asks for a part, and answers hundreds at once', async () => {
    const { port } = await serve();
    const part = await raw(port, `GET /assets/app.js HTTP/1.0\r\nHost: localhost\r\nRange: bytes=0-3\r\n\r\n`);
    expect([part.slice(0, 12), part.slice(-13)]).toEqual(['HTTP/1.1 200', '\r\n\r\nexport {};'.slice(-13)]);
    const many = await Promise.allSettled(Array.from({ length: 400 }, () => ask(port, '/assets/app.js')));
    const answered = many.filter((each) => each.status === 'fulfilled' && each.value.text === 'export {};');
    // Beyond its bound it hangs up instead of holding ever more files open.
    expect(answered.length).toBeGreaterThanOrEqual(200);
    expect((await ask(port, '/assets/app.js')).status).toBe(200);
  });

  it('takes the next port when one is taken', async () => {
    const first = await serve();
    const second = await serve({ port: first.port });
    expect(second.port).toBeGreaterThan(first.port);
    expect((await ask(second.port, '/')).status).toBe(200);
  });

  it('listens to this machine alone', async () => {
    const { port } = await serve();
    const other: Server = createServer();
    // The same port of another loopback address is still free, so ours did not take every address.
    await new Promise<void>((resolve, reject) => other.once('error', reject).listen(port, '127.0.0.2', resolve));
    other.close();
    expect((await ask(port, '/')).status).toBe(200);
  });

  it('says what to do when there is no built app', async () => {
    await expect(serveApp({ distDir: join(folder, 'none'), port: 0, host: '127.0.0.1' })).rejects.toThrow(
      /no built app .* npm run build/,
    );
  });

  it('stops at once, also with a connection open', async () => {
    const served = await serveApp({ distDir, port: 0, host: '127.0.0.1' });
    await ask(served.port, '/');
    await served.close();
    await expect(ask(served.port, '/')).rejects.toThrow();
  });
});

describe('opening a browser', () => {
  it('is tried only where there is a desktop to open it on', () => {
    expect(browserOpener('linux', {})).toBeNull();
    expect(browserOpener('linux', { DISPLAY: ':0' })?.command).toBe('xdg-open');
    expect(browserOpener('linux', { DISPLAY: ':0', CI: 'true' })).toBeNull();
    expect(browserOpener('darwin', { SSH_CONNECTION: 'x' })).toBeNull();
    expect(browserOpener('darwin', {})?.command).toBe('open');
    expect(browserOpener('win32', {})?.command).toBe('rundll32');
  });
});
