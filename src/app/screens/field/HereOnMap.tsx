import { lazy, Suspense } from 'react';
import type { SurveyMap } from '../../../map/survey-map';
import { useHere } from '../../field/position/here';
import type { Content } from '../../state/app-state';

const HereNote = lazy(async () => ({ default: (await import('./HereNote')).HereNote }));

/** Loaded when somebody first asks where they are. */
export function HereOnMap({ map, content }: { map: SurveyMap | null; content: Content }) {
  const { position } = useHere();
  if (position.kind === 'off') return null;
  return (
    <Suspense fallback={null}>
      <HereNote map={map} content={content} />
    </Suspense>
  );
}
