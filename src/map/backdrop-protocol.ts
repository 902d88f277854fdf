import { addProtocol } from 'maplibre-gl';
import { type Header, PMTiles, type Source, TileType } from 'pmtiles';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { DrawnBackdrop } from './backdrop';

/** Files of this device, by an address that no network knows: `kept://key/z/x/y` for tiles, `kept://key` for a picture. */
const PROTOCOL = 'kept';

const archives = new Map<string, PMTiles>();
const pictures = new Map<string, Blob>();
let offered = false;

/** A part of a file on the disk, read when it is asked for. */
function partsOf(key: string, file: Blob): Source {
  return {
    getKey: () => key,
    getBytes: async (offset, length) => ({ data: await file.slice(offset, offset + length).arrayBuffer() }),
  };
}

function offer(): void {
  if (offered) return;
  offered = true;
  addProtocol(PROTOCOL, async ({ url }, { signal }) => {
    const [key = '', z, x, y] = url.slice(`${PROTOCOL}://`.length).split('/');
    if (z === undefined) {
      const picture = pictures.get(key);
      if (!picture) throw new Error('The picture is no longer on this device.');
      return { data: await picture.arrayBuffer() };
    }
    const archive = archives.get(key);
    const tile = await archive?.getZxy(Number(z), Number(x), Number(y), signal);
    if (tile) return { data: tile.data };
    // Where an archive has no tile there is nothing to draw; that is no trouble, but no bytes are no picture.
    const isRaster = archive !== undefined && RASTER.includes((await archive.getHeader()).tileType);
    return { data: isRaster ? await createImageBitmap(new ImageData(1, 1)) : new ArrayBuffer(0) };
  });
}

const RASTER: readonly TileType[] = [TileType.Png, TileType.Jpeg, TileType.Webp, TileType.Avif];

/**
 * Makes a PMTiles file of this device ready to be drawn. Refusals: `not_pmtiles`, `tiles_of_another_kind`.
 */
export async function openArchive(
  key: string,
  file: Blob,
): Promise<Outcome<{ readonly drawn: DrawnBackdrop; readonly attribution: string | null; readonly header: Header }>> {
  const archive = new PMTiles(partsOf(key, file));
  let header: Header;
  let metadata: { attribution?: unknown; vector_layers?: unknown };
  try {
    header = await archive.getHeader();
    metadata = (await archive.getMetadata()) as typeof metadata;
  } catch {
    return refuse('not_pmtiles', 'This is no PMTiles file of version 3, or it is not whole.');
  }
  const tiles = `${PROTOCOL}://${key}/{z}/{x}/{y}`;
  const { minZoom, maxZoom, tileType } = header;
  const layers = Array.isArray(metadata.vector_layers) ? (metadata.vector_layers as { id?: unknown }[]) : [];
  const layerNames = layers.flatMap(({ id }) => (typeof id === 'string' ? [id] : []));
  const drawn: DrawnBackdrop | null = RASTER.includes(tileType)
    ? { kind: 'raster', tiles, minZoom, maxZoom }
    : tileType === TileType.Mvt && layerNames.length > 0
      ? { kind: 'vector', tiles, minZoom, maxZoom, layerNames }
      : null;
  if (!drawn) {
    return refuse(
      'tiles_of_another_kind',
      'The tiles of this file are neither pictures nor map tiles that name their layers.',
    );
  }
  archives.set(key, archive);
  offer();
  const said = typeof metadata.attribution === 'string' ? metadata.attribution.replace(/<[^>]*>/g, '').trim() : '';
  return done({ drawn, attribution: said || null, header });
}

/** The address under which the map finds a picture of this device. */
export function offerPicture(key: string, picture: Blob): string {
  pictures.set(key, picture);
  offer();
  return `${PROTOCOL}://${key}`;
}
