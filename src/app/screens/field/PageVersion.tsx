import { useSyncExternalStore } from 'react';
import { PROGRAM_VERSION } from '../../../program-version';
import { useKeptPage } from '../../field/page-context';
import type { PageCopy } from '../../field/page-copy';

const KEPT: Record<PageCopy['kept'], string> = {
  asking: '',
  keeping: 'Being kept on this device…',
  whole: 'Kept on this device: it opens without signal.',
  failed: 'Not kept on this device: without signal it will not open. Reload the page where there is signal.',
  none: 'This browser keeps no pages at this address: without signal it will not open.',
};

/** Which version this is, whether it opens without signal, and whether a newer one waits. */
export function PageVersion() {
  const page = useKeptPage();
  const { build, kept, newer } = useSyncExternalStore(page.copy.subscribe, page.copy.get);
  return (
    <>
      <p className="quiet page-version">
        Version {PROGRAM_VERSION}, build {build}. <span role="status">{KEPT[kept]}</span>
      </p>
      {newer && (
        <p>
          <button type="button" className="line-button" onClick={() => void page.takeNewer()}>
            Use the new version{newer.build ? ` (${newer.build})` : ''}
          </button>
        </p>
      )}
    </>
  );
}
