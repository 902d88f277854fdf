import { lazy, Suspense, useEffect, useRef, useState } from 'react';
import '../../../../styles/import.css';
import { useImport } from './use-import';

const ImportDialog = lazy(() => import('./ImportDialog').then(({ ImportDialog: dialog }) => ({ default: dialog })));

/** Files as they come in: picked here, or dropped anywhere on the page. */
export function ImportButton() {
  const bringing = useImport();
  const input = useRef<HTMLInputElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const over = useFilesOver((files) => void bringing.begin(files));
  const open = bringing.session !== null;

  // The keyboard goes back to where the import began.
  const wasOpen = useRef(false);
  useEffect(() => {
    if (wasOpen.current && !open) button.current?.focus();
    wasOpen.current = open;
  }, [open]);

  return (
    <>
      <button type="button" className="bar-name import-button" ref={button} onClick={() => input.current?.click()}>
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d="M12 3v11m-5-4 5 5 5-5M4 20h16" />
        </svg>
        <span className="import-button-words">Bring in files</span>
      </button>
      <input
        ref={input}
        type="file"
        multiple
        hidden
        accept=".csv,.tsv,.txt,.dsv,.json,.gpx,.kml,.geojson"
        aria-label="Files to bring in"
        onChange={(event) => {
          void bringing.begin([...(event.currentTarget.files ?? [])]);
          // The same file may be picked again after it was mended.
          event.currentTarget.value = '';
        }}
      />
      {over && (
        <div className="drop-veil" role="status">
          <p>Let go to see what these files hold. Nothing is brought in yet.</p>
        </div>
      )}
      {open && (
        <Suspense fallback={null}>
          <ImportDialog bringing={bringing} onMore={() => input.current?.click()} />
        </Suspense>
      )}
    </>
  );
}

/** Whether files are held over the page; they are given on when they are let go. */
function useFilesOver(onDrop: (files: readonly File[]) => void): boolean {
  const [over, setOver] = useState(false);
  const drop = useRef(onDrop);
  drop.current = onDrop;

  useEffect(() => {
    const carriesFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    const onOver = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const onLeave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const onLet = (event: DragEvent) => {
      setOver(false);
      if (!carriesFiles(event)) return;
      // Otherwise the browser opens the file in place of the page.
      event.preventDefault();
      drop.current([...(event.dataTransfer?.files ?? [])]);
    };
    window.addEventListener('dragover', onOver);
    window.addEventListener('dragleave', onLeave);
    window.addEventListener('drop', onLet);
    return () => {
      window.removeEventListener('dragover', onOver);
      window.removeEventListener('dragleave', onLeave);
      window.removeEventListener('drop', onLet);
    };
  }, []);
  return over;
}
