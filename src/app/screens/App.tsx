import { useLayoutEffect } from 'react';
import { useAppState } from '../app-context';
import { useTheme } from '../theme';
import { MapStage } from './MapStage';
import { MarginBar } from './MarginBar';
import { MarginSheet } from './MarginSheet';

/** The frame: one map, and beside it (or below it, on a small screen) the margin that is open. */
export function App() {
  const theme = useTheme(useAppState((state) => state.theme));
  const sheet = useAppState((state) => state.sheet);
  const siteName = useAppState(({ phase }) => (phase.kind === 'ready' ? phase.content.survey.site.name : null));

  // Before the map reads its colours from the style sheet.
  useLayoutEffect(() => {
    document.documentElement.dataset.theme = theme;
  }, [theme]);

  useLayoutEffect(() => {
    document.title = siteName ? `${siteName} · Hollowline` : 'Hollowline';
  }, [siteName]);

  return (
    <div className="book" data-sheet={sheet}>
      <MarginBar />
      <MarginSheet />
      <MapStage theme={theme} />
    </div>
  );
}
