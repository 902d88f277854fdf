import type { FeatureCollection } from 'geojson';
import type { DrawnBackdrop } from '../../map/backdrop';
import { offerPicture, openArchive } from '../../map/backdrop-protocol';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { KeptBackdrop } from './kept-backdrop';
import { mayLoadTiles } from './may-load-tiles';

/** Most servers of tiles stop here; nearer in, their last tiles are enlarged (choice). */
const LAST_ONLINE_ZOOM = 18;

/**
 * What the map draws of a backdrop. Refusals: `not_on_this_page` (tiles from the network), `file_gone`, and those of its
 * kind of file.
 */
export async function drawable(kept: KeptBackdrop, file: Blob | null): Promise<Outcome<DrawnBackdrop>> {
  if (kept.kind === 'online') {
    if (!mayLoadTiles()) {
      return refuse('not_on_this_page', `This page asks no other server, so ${kept.name} is not shown.`);
    }
    return done({ kind: 'raster', tiles: kept.address ?? '', minZoom: 0, maxZoom: LAST_ONLINE_ZOOM });
  }
  if (!file) return refuse('file_gone', `The file of ${kept.name} is no longer on this device. Add it again.`);
  if (kept.kind === 'underlay') {
    return done({ kind: 'underlay', features: JSON.parse(await file.text()) as FeatureCollection });
  }
  if (kept.kind === 'picture') {
    if (!kept.corners) return refuse('file_gone', `It is not known where ${kept.name} lies. Add it again.`);
    return done({ kind: 'picture', url: offerPicture(kept.key, file), corners: kept.corners });
  }
  const opened = await openArchive(kept.key, file);
  return opened.ok ? done(opened.value.drawn) : opened;
}
