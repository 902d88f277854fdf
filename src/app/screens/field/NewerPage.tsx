import { useSyncExternalStore } from 'react';
import type { KeptPage } from '../../field/page-copy';

/** That another version could be used. It is never taken but by a person's word. */
export function NewerPage({ page }: { page: KeptPage }) {
  const { build, newer, putOff, broken } = useSyncExternalStore(page.copy.subscribe, page.copy.get);
  if (broken) {
    return (
      <aside className="newer-page" role="alert">
        <p>A part of the page could not be loaded. What you have entered is kept.</p>
        <button type="button" className="line-button strong-button" onClick={() => location.reload()}>
          Load the page again
        </button>
      </aside>
    );
  }
  if (!newer || putOff) return null;
  return (
    <aside className="newer-page" role="status">
      <p>
        {newer.taken
          ? 'Another tab has taken the new version. This one goes on as it is until you take it too.'
          : `A new version is here (${newer.build ?? 'not named'}; this one is ${build}).`}
      </p>
      <button type="button" className="line-button strong-button" onClick={() => void page.takeNewer()}>
        Use it now
      </button>
      <button type="button" className="line-button" onClick={() => page.copy.dispatch({ putOff: true })}>
        Later
      </button>
    </aside>
  );
}
