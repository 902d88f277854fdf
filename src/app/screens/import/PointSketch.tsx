import type { PreviewPlaces } from '../../../exchange/read/preview-places';
import type { LengthUnit } from '../../../survey/units';
import { significant } from '../../../survey/wording';

const SIDE = 300;
const EDGE = 8;

/** Where the points fall, seen from above, north up. */
export function PointSketch({ places, unit }: { places: PreviewPlaces; unit: LengthUnit | null }) {
  const { points, bounds, system } = places;
  if (!bounds || points.length === 0) return null;
  const [west, south, east, north] = bounds;
  const [width, height] = places.extentM ?? [east - west, north - south];
  const larger = Math.max(width, height) || 1;
  const scaleX = ((SIDE * width) / larger || 0) / (east - west || 1);
  const scaleY = ((SIDE * height) / larger || 0) / (north - south || 1);
  const [drawnWidth, drawnHeight] = [(east - west) * scaleX, (north - south) * scaleY];
  const words = extentWords(places, unit);
  return (
    <figure className="sketch">
      <svg
        viewBox={`${-EDGE} ${-EDGE} ${drawnWidth + 2 * EDGE} ${drawnHeight + 2 * EDGE}`}
        role="img"
        aria-label={`Sketch of where the points fall. ${words}`}
      >
        {points.map(([x, y], i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a point is where it stands
          <circle key={i} cx={(x - west) * scaleX} cy={(north - y) * scaleY} r={2.2} />
        ))}
      </svg>
      <figcaption>
        {words} {system === 'own_units' && 'Which place on the Earth that is has still to be said.'}
      </figcaption>
    </figure>
  );
}

function extentWords({ bounds, extentM, system }: PreviewPlaces, unit: LengthUnit | null): string {
  if (!bounds) return '';
  const [west, south, east, north] = bounds;
  if (system === 'own_units') {
    const size = `${significant(east - west, 3)} from west to east, ${significant(north - south, 3)} from south to north`;
    return `The points span ${size}${unit ? ` (${unit})` : ', in the numbers of the file'}.`;
  }
  const middle = `around ${((south + north) / 2).toFixed(4)}, ${((west + east) / 2).toFixed(4)}`;
  if (!extentM) return `The points lie ${middle}.`;
  return `The points span ${lengthWords(extentM[0])} from west to east and ${lengthWords(extentM[1])} from south to north, ${middle} (latitude, longitude).`;
}

const lengthWords = (metres: number): string =>
  metres >= 10_000 ? `${significant(metres / 1000, 3)} km` : `${significant(metres, 3)} m`;
