import { useCallback, useEffect, useRef, useState } from 'react';
import type { ColumnsMap, FileColumns } from '../../../exchange/read/columns';
import type { FilePlaces } from '../../../exchange/read/places-map';
import type { NamedBytes } from '../../../exchange/read/tables';
import type { Note } from '../../../survey/note';
import type { Survey } from '../../../survey/survey';
import { type ImportClient, startImportClient } from '../../../workers/import-client';
import type { Understood } from '../../../workers/import-table';
import { adopt, bringIn } from '../../adopt';
import { type AppParts, useApp } from '../../app-context';

/** An import under way. */
export interface ImportSession {
  readonly files: readonly NamedBytes[];
  readonly columns: ColumnsMap;
  /** Null while the files are looked at for the first time, and for a document that is no survey. */
  readonly understood: Understood | null;
  /** Why there is nothing to correct: what was wrong with a survey document, or with reading the files. */
  readonly refused: readonly string[];
  readonly intoOpen: boolean;
  readonly siteName: string;
  /** A correction is being understood, or the survey is being made. */
  readonly busy: boolean;
  /** The survey is made and is being opened and written: files that come now are an import of their own. */
  readonly leaving: boolean;
}

export interface Import {
  readonly session: ImportSession | null;
  begin(files: readonly File[]): Promise<void>;
  correct(file: string, columns: FileColumns): void;
  /** Corrects what the names of a file of places are taken for. */
  correctPlaces(file: string, places: FilePlaces): void;
  leaveOut(file: string): void;
  aim(intoOpen: boolean): void;
  nameSite(siteName: string): void;
  take(): Promise<void>;
  end(): void;
}

const openSurveyOf = ({ store }: AppParts): Survey | null => {
  const { phase } = store.get();
  return phase.kind === 'ready' ? phase.content.survey : null;
};

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
const faultSentences = (notes: readonly Note[]): string[] =>
  notes.flatMap(({ kind, sentence }) => (kind === 'fault' ? [sentence] : []));

/** Bringing files in: looked at, corrected, taken. The worker lives from the first file to the end of the import. */
export function useImport(): Import {
  const parts = useApp();
  const [session, setSession] = useState<ImportSession | null>(null);
  const current = useRef<ImportSession | null>(null);
  const client = useRef<ImportClient | null>(null);
  const understanding = useRef(false);

  const put = useCallback((next: ImportSession | null) => {
    current.current = next;
    setSession(next);
  }, []);
  const change = useCallback(
    (what: Partial<ImportSession>) => {
      if (current.current) put({ ...current.current, ...what });
    },
    [put],
  );
  /** The session that further files and corrections belong to. */
  const going = useCallback(() => (current.current?.leaving ? null : current.current), []);
  const end = useCallback(() => {
    client.current?.end();
    client.current = null;
    understanding.current = false;
    put(null);
  }, [put]);
  useEffect(() => end, [end]);

  /** One question to the worker at a time; what was corrected meanwhile is asked when it has answered. */
  const understand = useCallback(async () => {
    change({ busy: true });
    if (understanding.current) return;
    understanding.current = true;
    try {
      for (;;) {
        const asked = current.current;
        const worker = client.current;
        if (!asked || !worker) return;
        const understood = await worker.understand(asked.columns, asked.intoOpen ? openSurveyOf(parts) : null);
        // Ended meanwhile, or begun anew.
        if (client.current !== worker) return;
        const now = current.current;
        if (now?.columns !== asked.columns || now.intoOpen !== asked.intoOpen) continue;
        change({ understood, busy: false, refused: [] });
        return;
      }
    } catch (error) {
      change({ refused: [`The files could not be read: ${reasonOf(error)}`], busy: false });
    } finally {
      understanding.current = false;
    }
  }, [change, parts]);

  const look = useCallback(
    async (files: readonly NamedBytes[], columns: ColumnsMap | null) => {
      client.current?.end();
      understanding.current = false;
      const worker = startImportClient((reason) => change({ refused: [`Reading broke off: ${reason}`], busy: false }));
      client.current = worker;
      const before = going();
      const siteName = before?.siteName ?? nameOf(files);
      put({
        files,
        columns: columns ?? { files: {} },
        understood: null,
        refused: [],
        intoOpen: before?.intoOpen ?? false,
        siteName,
        busy: true,
        leaving: false,
      });
      try {
        const looked = await worker.look(files, openSurveyOf(parts));
        if (client.current !== worker) return;
        if (looked.kind === 'tables') {
          // Corrections made before a file was added stand, unless the added file is a map that says otherwise.
          const said = Object.fromEntries(looked.stated.map((file) => [file, looked.columns.files[file]]));
          change({
            files: files.filter(({ name }) => looked.files.includes(name)),
            columns: {
              files: { ...looked.columns.files, ...columns?.files, ...said } as ColumnsMap['files'],
              places: { ...columns?.places, ...looked.columns.places },
            },
            understood: looked.understood,
            busy: false,
          });
          if (columns || before?.intoOpen) await understand();
          change({ refused: faultSentences(looked.mapFaults) });
        } else if (looked.survey) {
          change({ leaving: true });
          await adopt(parts, looked.survey, looked.notes);
          if (client.current === worker) end();
        } else {
          change({ refused: faultSentences(looked.notes), busy: false });
        }
      } catch (error) {
        if (client.current !== worker) return;
        change({ refused: [`The files could not be read: ${reasonOf(error)}`], busy: false, leaving: false });
      }
    },
    [change, end, going, parts, put, understand],
  );

  return {
    session,
    async begin(files) {
      if (files.length === 0) return;
      const read = async (file: File): Promise<NamedBytes> => ({
        name: file.name,
        bytes: new Uint8Array(await file.arrayBuffer()),
      });
      try {
        const added = await Promise.all(files.map(read));
        const known = going()?.files.filter(({ name }) => !added.some((file) => file.name === name)) ?? [];
        await look([...known, ...added], going()?.columns ?? null);
      } catch (error) {
        parts.store.dispatch({ type: 'trouble', sentence: `A file could not be opened: ${reasonOf(error)}` });
      }
    },
    correct(file, columns) {
      const before = current.current;
      if (!before) return;
      change({ columns: { ...before.columns, files: { ...before.columns.files, [file]: columns } } });
      void understand();
    },
    correctPlaces(file, places) {
      const before = current.current;
      if (!before) return;
      change({ columns: { ...before.columns, places: { ...before.columns.places, [file]: places } } });
      void understand();
    },
    leaveOut(file) {
      const before = current.current;
      if (!before) return;
      const files = before.files.filter(({ name }) => name !== file);
      const { [file]: _, ...others } = before.columns.files;
      const { [file]: __, ...otherPlaces } = before.columns.places ?? {};
      if (files.length === 0) end();
      else void look(files, { files: others, places: otherPlaces });
    },
    aim(intoOpen) {
      change({ intoOpen });
      void understand();
    },
    nameSite: (siteName) => change({ siteName }),
    async take() {
      const now = current.current;
      const worker = client.current;
      if (!now || !worker) return;
      change({ busy: true });
      try {
        const { survey, notes } = await worker.take(now.columns, {
          into: now.intoOpen ? openSurveyOf(parts) : null,
          siteName: now.siteName.trim() || nameOf(now.files),
          seed: crypto.randomUUID(),
        });
        if (client.current !== worker) return;
        if (!survey) return change({ refused: faultSentences(notes), busy: false });
        change({ leaving: true });
        await (now.intoOpen ? bringIn : adopt)(parts, survey, notes);
        if (client.current === worker) end();
      } catch (error) {
        if (client.current !== worker) return;
        change({ refused: [`The survey could not be made: ${reasonOf(error)}`], busy: false, leaving: false });
      }
    },
    end,
  };
}

/** A site named after what was brought in. */
function nameOf(files: readonly NamedBytes[]): string {
  const foreign = files.find(({ name }) => !/^(positions|readings|legs|remotes|features)\.|\.json$/i.test(name));
  return foreign ? foreign.name.replace(/\.[^.]*$/, '') : 'New survey';
}
