import { expose } from 'comlink';
import type { Distance, Drape, LineLayers } from '../exchange/write/layer-collection';
import type { LineFindings } from '../findings';
import type { FindingsTable } from './findings-table';
import { createSender } from './parts';
import { holdWhileAlive } from './watched-worker';

/*
 * The table is loaded behind the messages, so that zod is told to make no functions from text before any schema is
 * made: the page's content-security policy forbids it.
 */
async function load(): Promise<FindingsTable> {
  await holdWhileAlive(self.name);
  const { config } = await import('zod/mini');
  config({ jitless: true });
  const { createFindingsTable } = await import('./findings-table');
  return createFindingsTable();
}

const table = load();
const sendLines = createSender<LineFindings>();
const sendLayers = { far: createSender<LineLayers>(), near: createSender<LineLayers>() };

const exposed = {
  open: async (...given: Parameters<FindingsTable['open']>) => (await table).open(...given),
  survey: async () => (await table).survey(),
  take: async (...given: Parameters<FindingsTable['take']>) => (await table).take(...given),
  change: async (...given: Parameters<FindingsTable['change']>) => (await table).change(...given),
  search: async (...given: Parameters<FindingsTable['search']>) => (await table).search(...given),
  findings: async () => {
    const { lines, ...common } = (await table).findings();
    return { common, lines: sendLines(lines.map((line) => [line.lineId, line])) };
  },
  drawn: async (drape: Drape, distance: Distance) => sendLayers[distance]((await table).drawn(drape, distance)),
  layerFile: async (...given: Parameters<FindingsTable['layerFile']>) => (await table).layerFile(...given),
};

/** What the page can ask of the worker. */
export type FindingsWorker = typeof exposed;

expose(exposed);
