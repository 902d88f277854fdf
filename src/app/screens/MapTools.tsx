import type { Bounds } from '../../map/picture';
import type { SurveyMap } from '../../map/survey-map';
import { BackdropTool } from './backdrop/BackdropTool';
import { HereButton } from './field/HereButton';
import { ThemeSelect } from './ThemeSelect';

/** Near, far, the whole site, and the look; each a thumb wide. */
export function MapTools({ map, bounds }: { map: SurveyMap | null; bounds: Bounds | null }) {
  return (
    <div className="map-tools">
      <ThemeSelect />
      {map && (
        <>
          <button type="button" className="tool" aria-label="Nearer" onClick={() => map.zoomBy(1)}>
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <path d="M12 4v16M4 12h16" />
            </svg>
          </button>
          <button type="button" className="tool" aria-label="Farther" onClick={() => map.zoomBy(-1)}>
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <path d="M4 12h16" />
            </svg>
          </button>
          {bounds && (
            <button type="button" className="tool" aria-label="Whole site" onClick={() => map.frame(bounds)}>
              <svg viewBox="0 0 24 24" aria-hidden="true">
                <path d="M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5" />
              </svg>
            </button>
          )}
        </>
      )}
      {map && <BackdropTool map={map} />}
      <HereButton />
    </div>
  );
}
