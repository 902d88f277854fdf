import { lazy, Suspense, useState } from 'react';
import type { SurveyMap } from '../../../map/survey-map';
import { useBackdropChoice } from '../../backdrop/backdrop-choice';

const BackdropDialog = lazy(async () => ({ default: (await import('./BackdropDialog')).BackdropDialog }));

/** Opens the choice of what lies under the survey. */
export function BackdropTool({ map }: { map: SurveyMap }) {
  const [open, setOpen] = useState(false);
  const { picking } = useBackdropChoice();
  return (
    <>
      <button type="button" className="tool" aria-label="Backdrop" title="Backdrop" onClick={() => setOpen(true)}>
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d="M3 8l9-5 9 5-9 5zM3 13l9 5 9-5" />
        </svg>
      </button>
      {open && (
        <Suspense fallback={null}>
          <BackdropDialog map={map} hidden={picking !== null} onClose={() => setOpen(false)} />
        </Suspense>
      )}
    </>
  );
}
