import { useEffect, useMemo, useRef } from 'react';
import { pageLook } from '../../../figures/look';
import { closureWords, traverseSketch } from '../../../figures/traverse-sketch';
import type { Line, LocalGrid } from '../../../survey/survey';
import { useAppState } from '../../app-context';
import { traverseOf } from '../../state/traverse-of';
import { useTheme } from '../../theme';

/** The legs of a line seen from above, with how they close. Nothing for a line without legs. */
export function TraverseFigure({ line, grids }: { line: Line; grids: readonly LocalGrid[] }) {
  const theme = useTheme(useAppState((state) => state.theme));
  const place = useRef<HTMLDivElement>(null);
  const traverse = useMemo(() => traverseOf(line, grids), [line, grids]);
  const svg = useMemo(
    () => (traverse?.ok ? traverseSketch({ lineName: line.name, ...traverse.value }, pageLook(theme)) : null),
    [traverse, line.name, theme],
  );

  useEffect(() => {
    const host = place.current;
    if (!host || svg === null) return;
    // Read as XML and adopted, so that a name can be nothing but text.
    const read = new DOMParser().parseFromString(svg, 'image/svg+xml');
    const figure = document.importNode(read.documentElement, true);
    figure.removeAttribute('width');
    figure.removeAttribute('height');
    figure.setAttribute('aria-label', figure.querySelector('title')?.textContent ?? '');
    host.replaceChildren(figure);
    return () => host.replaceChildren();
  }, [svg]);

  // One leg alone is no figure.
  if (!traverse || (traverse.ok && traverse.value.vertices.length < 3 && !traverse.value.closure)) return null;
  return (
    <section aria-labelledby="traverse-head">
      <h2 id="traverse-head">Traverse</h2>
      {traverse.ok ? (
        <>
          <div ref={place} className="figure-place" />
          <p>{closureWords(traverse.value.closure)}</p>
        </>
      ) : (
        <p>{traverse.sentence}</p>
      )}
    </section>
  );
}
