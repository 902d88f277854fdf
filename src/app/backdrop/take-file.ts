import { openArchive } from '../../map/backdrop-protocol';
import { boundsOf } from '../../map/picture';
import { done, type Outcome } from '../../survey/outcome';
import type { NewBackdrop } from './backdrops';
import { readUnderlay } from './read-underlay';

export interface TakenFile {
  readonly made: NewBackdrop;
  readonly file: Blob;
}

/** A PMTiles file as a backdrop, with the attribution and extent that it brings itself. */
export async function takeTiles(file: File): Promise<Outcome<TakenFile>> {
  const opened = await openArchive('offered', file);
  if (!opened.ok) return opened;
  const { header, attribution } = opened.value;
  const { minLon, minLat, maxLon, maxLat } = header;
  return done({
    made: {
      name: file.name,
      kind: 'tiles',
      attribution: attribution ?? '',
      bounds: [minLon, minLat, maxLon, maxLat],
    },
    file,
  });
}

/** Tracks and places as a backdrop. */
export async function takeUnderlay(file: File): Promise<Outcome<TakenFile>> {
  const read = readUnderlay(file.name, new Uint8Array(await file.arrayBuffer()));
  if (!read.ok) return read;
  const bounds = boundsOf([read.value]);
  return done({
    made: { name: file.name, kind: 'underlay', attribution: '', bounds: bounds && [...bounds] },
    file: new Blob([JSON.stringify(read.value)], { type: 'application/geo+json' }),
  });
}
