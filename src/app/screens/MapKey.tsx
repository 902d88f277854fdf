import { RAMP_SCALE, type Theme } from '../../map/ramp';
import { lengthLabel } from '../../map/round-length';
import { scaleBar } from '../../map/scale-bar';
import type { ViewScale } from '../../map/survey-map';
import { RampSwatch } from './RampSwatch';

const ROOM_PX = 110;
/** What must never leave the sight of a map: its scale and its ramp. */
export function MapKey({ theme, scale }: { theme: Theme; scale: ViewScale | null }) {
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
      <p className="ramp-strip">
        <span>below</span>
        {RAMP_SCALE.map((key) => (
          <RampSwatch key={key} ramp={key} theme={theme} lengthPx={18} />
        ))}
        <span>above reference</span>
      </p>
    </div>
  );
}
