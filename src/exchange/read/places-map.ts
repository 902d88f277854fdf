import * as z from 'zod/mini';

/*
 * What a columns map may say of a file of places (GPX, KML, GeoJSON, a table of plain places), under "places":
 *
 * {
 *   "places": {
 *     "waypoints.gpx": {                          the file's base name, case-blind
 *       "step_m": 5,                              distance between neighbouring electrodes of its lines
 *       "electrodes": 48,                         their number, where it is the same on every line
 *       "names": {                                name in the file → what it is; null = not wanted
 *         "P24": { "line": "L1", "electrode": 24 },
 *         "by the oak": { "line": "L1", "chainage_m": 12.5 },
 *         "gate": { "line": "L2", "at": "start" },    or "end"
 *         "far rod": { "line": "L1", "remote": "B" }, without a line: of every line of the file
 *         "Path 3": { "line": "L3" },                 another name for a track or a drawn line
 *         "car park": null
 *       }
 *     }
 *   }
 * }
 *
 * Where a file has a name more than once, the second is meant by "name (2)"; nameless ones are "point 1", "track 2".
 */

const alongM = z.number().check(z.gte(-100_000), z.lte(100_000));
const line = z.string().check(z.minLength(1), z.maxLength(200));

const placeSchema = z.strictObject({
  line: z.optional(line),
  electrode: z.optional(z.int().check(z.gte(1), z.lte(10_000))),
  chainage_m: z.optional(alongM),
  at: z.optional(z.enum(['start', 'end'])),
  remote: z.optional(z.enum(['A', 'B', 'M', 'N'])),
});

export const filePlacesSchema = z.strictObject({
  step_m: z.optional(z.number().check(z.positive(), z.lte(10_000))),
  electrodes: z.optional(z.int().check(z.gte(2), z.lte(10_000))),
  names: z.optional(z.record(z.string(), z.nullable(placeSchema))),
});

/** How to read one file of places. */
export type FilePlaces = z.infer<typeof filePlacesSchema>;
/** What one name of such a file is. */
export type NamedPlace = z.infer<typeof placeSchema>;

/** What a survey remembers of how a file of places was read; null when it is no such thing. */
export function filePlacesFrom(remembered: unknown): FilePlaces | null {
  const parsed = filePlacesSchema.safeParse(remembered);
  return parsed.success ? parsed.data : null;
}
