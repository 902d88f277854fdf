import * as z from 'zod/mini';
import { BACKDROP_KINDS } from './backdrop-kinds';

const place = z.object({ lon: z.number(), lat: z.number() });

/** One backdrop in the list of this device. Its file, where it has one, stands beside the list under its key. */
const KeptBackdropShape = z.object({
  key: z.string(),
  name: z.string(),
  kind: z.enum(BACKDROP_KINDS),
  bytes: z.number(),
  /** Whose it is, as it has to be said on the map. */
  attribution: z.string(),
  /** How strong it is drawn, 0 to 1. */
  opacity: z.number(),
  /** West, south, east, north in degrees. */
  bounds: z.nullable(z.tuple([z.number(), z.number(), z.number(), z.number()])),
  /** Of a picture: top left, top right, bottom right, bottom left. */
  corners: z.optional(z.tuple([place, place, place, place])),
  /** Of online tiles: their address. */
  address: z.optional(z.string()),
});
export type KeptBackdrop = Readonly<z.infer<typeof KeptBackdropShape>>;

/** The list as it was kept. What is no backdrop of ours, or of a later version, is passed over and not deleted from the disk. */
export function readKeptList(text: string): readonly KeptBackdrop[] {
  let list: unknown;
  try {
    list = JSON.parse(text);
  } catch {
    return [];
  }
  if (!Array.isArray(list)) return [];
  return list.flatMap((each) => {
    const read = KeptBackdropShape.safeParse(each);
    return read.success ? [read.data] : [];
  });
}
