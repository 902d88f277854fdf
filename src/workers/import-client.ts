import { type Remote, wrap } from 'comlink';
import type { ColumnsMap } from '../exchange/read/columns';
import type { NamedBytes } from '../exchange/read/tables';
import type { WrittenTables } from '../exchange/write/tables';
import type { Findings } from '../findings';
import type { Survey } from '../survey/survey';
import type { ImportTable, Looked, Target, Understood } from './import-table';

/** The import worker as the page sees it. It lives as long as one import, or one writing of tables. */
export interface ImportClient {
  look(files: readonly NamedBytes[], open: Survey | null): Promise<Looked>;
  understand(columns: ColumnsMap, into: Survey | null): Promise<Understood>;
  take(columns: ColumnsMap, target: Target): Promise<ReturnType<ImportTable['take']>>;
  tables(survey: Survey, findings: Findings): Promise<WrittenTables>;
  end(): void;
}

/** Starts the worker. `onFailure` hears of a worker that could not start or broke. */
export function startImportClient(onFailure: (reason: string) => void): ImportClient {
  const worker = new Worker(new URL('./import.worker.ts', import.meta.url), { type: 'module', name: 'import' });
  worker.addEventListener('error', (event) => onFailure(event.message || 'the worker could not be started'));
  const table: Remote<ImportTable> = wrap<ImportTable>(worker);
  return {
    look: (files, open) => table.look(files, open),
    understand: (columns, into) => table.understand(columns, into),
    take: (columns, target) => table.take(columns, target),
    tables: (survey, findings) => table.tables(survey, findings),
    end: () => worker.terminate(),
  };
}
