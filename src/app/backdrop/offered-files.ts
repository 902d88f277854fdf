import { isWorldFileName } from '../../exchange/read/world-file';
import { done, type Outcome, refuse } from '../../survey/outcome';

/** What chosen files can be a backdrop as. */
export type OfferedFiles =
  | { readonly kind: 'tiles' | 'underlay'; readonly file: File }
  | { readonly kind: 'picture'; readonly file: File; readonly world: File | null };

const PICTURE = /\.(?:png|jpe?g|webp)$/i;
const UNDERLAY = /\.(?:gpx|kml|geojson|json)$/i;

/** Tells by their names what files are. Refusals: `more_than_one`, `world_without_picture`, `no_backdrop`. */
export function offeredIn(files: readonly File[]): Outcome<OfferedFiles> {
  const world = files.filter(({ name }) => isWorldFileName(name));
  const [file, second] = files.filter((each) => !world.includes(each));
  if (second || world.length > 1) {
    return refuse('more_than_one', 'Add one backdrop at a time: one file, or a picture together with its world file.');
  }
  if (!file) {
    return refuse('world_without_picture', 'A world file says where a picture lies: choose both files together.');
  }
  if (PICTURE.test(file.name)) return done({ kind: 'picture', file, world: world[0] ?? null });
  if (/\.pmtiles$/i.test(file.name)) return done({ kind: 'tiles', file });
  if (UNDERLAY.test(file.name)) return done({ kind: 'underlay', file });
  return refuse(
    'no_backdrop',
    `${file.name} cannot be a backdrop. Take a PMTiles file, a PNG, JPEG or WebP picture, a GPX, KML or GeoJSON file.`,
  );
}
