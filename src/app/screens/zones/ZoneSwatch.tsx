import type { ZoneFinding } from '../../../findings';
import { type Theme, ZONE_COLOUR } from '../../../map/ramp';

/** A zone's rim as on the map: whole where it reads as a void would, broken else. */
export function ZoneSwatch({ zone: { verdict }, theme }: { zone: ZoneFinding; theme: Theme }) {
  return (
    <svg className="zone-swatch" viewBox="0 0 26 18" width="26" height="18" aria-hidden="true">
      <rect
        x="2"
        y="2"
        width="22"
        height="14"
        rx="4"
        fill={ZONE_COLOUR[theme][verdict]}
        fillOpacity={verdict === 'void_like' ? 0.22 : 0.1}
        stroke={ZONE_COLOUR[theme][verdict]}
        strokeWidth={verdict === 'void_like' ? 2.4 : 1.6}
        strokeDasharray={verdict === 'void_like' ? undefined : '4 2.6'}
      />
    </svg>
  );
}
