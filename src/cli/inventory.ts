import { faultOf } from './faults';
import { inventoryDensity } from './inventory-density';
import { inventoryMatch } from './inventory-match';
import { inventoryMerge } from './inventory-merge';
import { inventoryReport } from './inventory-report';
import { inventorySetbacks } from './inventory-setbacks';
import { COLUMNS_HELP, JSON_HELP } from './options';

export const INVENTORY_HELP = `hollowline inventory merge|match|density|report|setbacks FILE… [options] [--json]

  Karst features of many files: joined, compared, counted, and the ground that your rules keep clear.
  A FILE is a survey, GeoJSON, CSV or TSV, KML, GPX, or a zip with a shapefile or a KML.

  merge FILE… --out FILE.survey.json
      Joins the files of several keepers. Features with one id: the version revised last stands.
      Features with one number in one source are one. The order of the files does not matter, and
      joining again changes nothing. Conflicts are listed.
  match FILE… [--within M]
      Lists pairs that are likely to be one thing: as near as their accuracies allow (or M metres
      more), of types that go together, with names that are alike. Nothing is joined.
  density FILE… [--cell M] [--bandwidth M] [--out FILE.geojson]
      Counts features in squares of M metres (without --cell, 1000) and, with --bandwidth, by a
      quartic kernel of that many metres. The bandwidth decides what is seen, so you have to choose it.
  report FILE… [--region FILE.geojson] [--within M]
      What was read and what is wrong in it, types, statuses, the nearest-neighbour index (Clark &
      Evans 1954; edge by Donnelly 1978), long axes (Rayleigh), features within M metres of zones
      (without --within, 500). --region: the ground that was looked at, as one polygon.
  setbacks FILE… --rules RULES.json --out FILE.geojson
      Areas by your own rules. There are no distances of ours: law and custom are local.

${COLUMNS_HELP}
  --with-unverified   also counts depressions and geophysical anomalies that nobody verified
  --types A,B         counts these types only
${JSON_HELP}

  RULES.json is a list of rules:
    [{"type": "sinkhole", "distance_m": 15, "from": "edge", "with_uncertainty": true,
      "cites": "your local code"}]
  type: any, sinkhole (every kind), or the code of a type; from: edge, rim or point.
  Examples of distances in law, none of them yours: 300 ft for new feedlots from a sinkhole (Minnesota
  Rules 7020.2005); 25 ft easement and 10 ft to buildings (Bloomington, Indiana). Ask what applies to
  you.

  The files written here hold every place exactly: they are for you alone. For others there is
  "hollowline share", which hides places as your classes of confidentiality say. Law may ask for that,
  as 16 U.S.C. 4304 and 36 CFR 290.4 do for caves on United States federal land (examples only), and so
  may the owner. You have to know and state both.
  Density shows where somebody looked and wrote down. Few features do not mean safe ground.
  Distances are geodesics on the WGS 84 ellipsoid; areas are in an equal-area plane.

  Example: hollowline inventory report caves.csv sinkholes.geojson --json`;

const VERBS: Readonly<Record<string, (args: readonly string[], print: (text: string) => void) => number>> = {
  merge: inventoryMerge,
  match: inventoryMatch,
  density: inventoryDensity,
  report: inventoryReport,
  setbacks: inventorySetbacks,
};

/** `hollowline inventory …`: exit 0; what cannot be read at all is bad input. */
export function inventory(args: readonly string[], print: (text: string) => void): number {
  const [verb = '', ...rest] = args;
  const run = Object.hasOwn(VERBS, verb) ? VERBS[verb] : undefined;
  if (!run) throw faultOf('arguments', '1', verb, `one of ${Object.keys(VERBS).join(', ')} behind inventory`);
  return run(rest, print);
}
