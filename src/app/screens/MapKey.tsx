import { lazy, Suspense } from 'react';
import { RAMP_SCALE, type Theme } from '../../map/ramp';
import { lengthLabel } from '../../map/round-length';
import { scaleBar } from '../../map/scale-bar';
import type { ViewScale } from '../../map/survey-map';
import { useAppState } from '../app-context';
import { RampSwatch } from './RampSwatch';

const ChangeKey = lazy(async () => ({ default: (await import('./compare/ChangeKey')).ChangeKey }));

const ROOM_PX = 110;
/** What must never leave the sight of a map: its scale and its ramp. */
export function MapKey({ theme, scale }: { theme: Theme; scale: ViewScale | null }) {
  const compared = useAppState((state) => state.compared);
  const bar = scale ? scaleBar(scale.metresPerPixel, ROOM_PX) : null;
  return (
    <div className="map-key">
      {bar && (
        <p className="scale">
          <svg width={bar.widthPx + 2} height="10" aria-hidden="true">
            <path d={`M1 1v8h${bar.widthPx}v-8`} />
          </svg>
          <span>{bar.label}</span>
          {scale?.gridStepM && <span className="grid-step">grid {lengthLabel(scale.gridStepM)}</span>}
        </p>
      )}
      {compared ? (
        <Suspense fallback={null}>
          <ChangeKey compared={compared} theme={theme} />
        </Suspense>
      ) : (
        <p className="ramp-strip">
          <span>below</span>
          {RAMP_SCALE.map((key) => (
            <RampSwatch key={key} ramp={key} theme={theme} lengthPx={18} />
          ))}
          <span>above reference</span>
        </p>
      )}
    </div>
  );
}
