import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { dirname, join } from 'node:path';
import type { Browser } from 'playwright-core';
import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { geojsonText } from '../../src/exchange/write/geojson';
import { buildLayers } from '../../src/exchange/write/layers';
import { startBrowser } from '../browser/browser';
import { buildOwnApp, serveBuilt } from '../browser/built-app';
import { DESK } from '../browser/open-page';
import { bigSurvey } from './appraise.bench';

export interface ManySegments {
  readonly segments: number;
  /** From asking for the page to a map at rest. */
  readonly ours: number;
  /** The same for a page with nothing but the map library and the segments as a file. */
  readonly bare: number;
}

const MAPLIBRE = dirname(createRequire(import.meta.url).resolve('maplibre-gl/dist/maplibre-gl-worker.mjs'));

const BARE_PAGE = `<!doctype html><html><body><div id="map" style="position:absolute;inset:0"></div>
<script type="module">
import * as maplibregl from './maplibre-gl.mjs';
maplibregl.setWorkerUrl('./maplibre-gl-worker.mjs');
const map = new maplibregl.Map({ container: 'map', center: [-91.895, 37.41], zoom: 14,
  style: { version: 8, sources: {}, layers: [{ id: 'paper', type: 'background', paint: { 'background-color': '#f6efe2' } }] } });
map.on('load', () => {
  map.addSource('segments', { type: 'geojson', data: new URL('./segments.geojson', location.href).href, tolerance: 0, maxzoom: 24, promoteId: 'sid' });
  map.addLayer({ id: 'segments', type: 'line', source: 'segments', paint: { 'line-color': ['get', 'stroke'], 'line-width': ['get', 'stroke-width'] } });
  map.once('idle', () => { window.atRest = true; });
});
</script></body></html>`;

/** A page with nothing but the map library, beside ours, with the same segments, in one run. */
export async function benchManySegments(lineCount = 1000): Promise<ManySegments> {
  const survey = bigSurvey(lineCount);
  const layers = buildLayers(disclose(survey, appraise(survey), 'surveyor'), { drape: 'midpoint' });
  const bareServer = await serveBare(geojsonText(layers.segments));
  const app = await buildOwnApp('production');
  const served = await serveBuilt(app, JSON.stringify(survey));
  const browser = await startBrowser();
  try {
    const { port } = bareServer.address() as AddressInfo;
    const bare = await timed(
      browser,
      `http://127.0.0.1:${port}/`,
      () => (window as { atRest?: boolean }).atRest === true,
    );
    const ours = await timed(browser, `${served.url}&inspect`, () => {
      const map = window.hollowline?.map as unknown as { loaded(): boolean; isMoving(): boolean } | undefined;
      return window.hollowline?.store.get().phase.kind === 'ready' && map?.loaded() === true && !map.isMoving();
    });
    return { segments: layers.segments.features.length, ours, bare };
  } finally {
    await browser.close();
    await served.close();
    await app.remove();
    bareServer.close();
    bareServer.closeAllConnections();
  }
}

async function timed(browser: Browser, address: string, atRest: () => boolean): Promise<number> {
  const context = await browser.newContext(DESK);
  const page = await context.newPage();
  const start = performance.now();
  await page.goto(address);
  await page.waitForFunction(atRest, undefined, { polling: 50, timeout: 180_000 });
  const taken = performance.now() - start;
  await context.close();
  return taken;
}

function serveBare(segments: string): Promise<Server> {
  const server = createServer((request, response) => {
    const name = (request.url ?? '/').slice(1);
    if (name === '') response.writeHead(200, { 'Content-Type': 'text/html' }).end(BARE_PAGE);
    else if (name === 'segments.geojson')
      response.writeHead(200, { 'Content-Type': 'application/geo+json' }).end(segments);
    else if (/^maplibre-gl[\w-]*\.mjs$/.test(name)) {
      response.writeHead(200, { 'Content-Type': 'text/javascript' }).end(readFileSync(join(MAPLIBRE, name)));
    } else response.writeHead(404).end();
  });
  return new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve(server)));
}
