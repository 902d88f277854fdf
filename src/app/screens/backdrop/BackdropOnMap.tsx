import { lazy, Suspense } from 'react';
import type { SurveyMap } from '../../../map/survey-map';
import { useBackdropChoice } from '../../backdrop/backdrop-choice';

const BackdropDrawn = lazy(async () => ({ default: (await import('./BackdropDrawn')).BackdropDrawn }));

/** Nothing is loaded for paper and grid. */
export function BackdropOnMap({ map }: { map: SurveyMap }) {
  const { shown, picking } = useBackdropChoice();
  if (shown === null && !picking) return null;
  return (
    <Suspense fallback={null}>
      <BackdropDrawn map={map} />
    </Suspense>
  );
}
