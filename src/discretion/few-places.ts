import type { Findings } from '../findings';
import { localPlane } from '../position/crs';
import type { Survey } from '../survey/survey';
import { callOf, type Leak } from './leak';
import { nearIndex, reachM } from './near';
import type { Protected } from './protected';
import { shownPlaces } from './shown-places';

/** Places tried along each side of a square. */
const TRIED = 24;
/** What a share may rule out of a square before it is said. Choice. */
const MOST_RULED_OUT = 0.1;

/** Of the leak of a feature, so that a decision on it is found before it is looked for again. */
export const fewPlacesId = (feature: string): string => `few_places:${feature}`;

/**
 * Whoever knows that nothing is shown near a hidden place can rule out everything near what is shown. Where that is more
 * than a tenth of the square that a feature is shown by, the square says more than it pretends.
 */
export function fewPlaces(shown: Survey, findings: Findings, hidden: readonly Protected[]): readonly Leak[] {
  const near = nearIndex(shownPlaces(shown, findings).map((parts) => ({ parts, value: null })));
  return hidden.flatMap((each): readonly Leak[] => {
    const { cell, feature } = each;
    if (!cell || feature.retired) return [];
    const plane = localPlane(cell.middle.lon, cell.middle.lat);
    const reach = reachM(each);
    const around: Protected = { ...each, place: cell.middle, parts: [] };
    const legs = near(around, cell.reachM + reach).flatMap(({ parts }) =>
      parts.flatMap((part) => {
        const points = part.map(({ lon, lat }) => plane.toPlane(lon, lat));
        return points.map((point, i) => [point, points[i + 1] ?? point] as const);
      }),
    );
    let ruledOut = 0;
    for (let i = 0; i < TRIED; i += 1) {
      for (let k = 0; k < TRIED; k += 1) {
        const x = ((i + 0.5) / TRIED - 0.5) * cell.gridM;
        const y = ((k + 0.5) / TRIED - 0.5) * cell.gridM;
        if (legs.some(([p, q]) => legDistance(x, y, p, q) <= reach)) ruledOut += 1;
      }
    }
    const share = ruledOut / TRIED ** 2;
    if (share <= MOST_RULED_OUT) return [];
    return [
      {
        id: fewPlacesId(feature.id),
        kind: 'few_places',
        feature: feature.id,
        sentence: `What is shown rules out ${(100 * share).toFixed(0)} % of the square of ${cell.gridM} m that ${callOf(feature)} is shown by: who knows that nothing is shown near it finds it in the rest.`,
        remedy: 'Withholding leaves the feature out of this share. A coarser grid in its class is the other way.',
        carrier: { kind: 'feature', feature: feature.id },
      },
    ];
  });
}

type XY = readonly [x: number, y: number];

function legDistance(x: number, y: number, [px, py]: XY, [qx, qy]: XY): number {
  const [dx, dy] = [qx - px, qy - py];
  const square = dx * dx + dy * dy;
  const along = square > 0 ? Math.min(1, Math.max(0, ((x - px) * dx + (y - py) * dy) / square)) : 0;
  return Math.hypot(px + along * dx - x, py + along * dy - y);
}
