import { faultOf } from './faults';
import { inventoryDensity } from './inventory-density';
import { inventoryMatch } from './inventory-match';
import { inventoryMerge } from './inventory-merge';
import { inventoryReport } from './inventory-report';
import { inventorySetbacks } from './inventory-setbacks';

export const INVENTORY_HELP = `hollowline inventory merge|match|density|report|setbacks FILE… [options] [--json]

  Karst features of many files: joined, compared, counted, and with the ground that rules keep clear.
  A FILE is a survey, GeoJSON, CSV or TSV, KML, GPX, or a zip with a shapefile or a KML.

  merge FILE… --out FILE.survey.json
      Joins keepers' files: by id the version revised last, and by the number in one source. The order
      of the files does not matter, and joining again changes nothing. Conflicts are listed.
  match FILE… [--within M]
      Pairs that are likely to be one thing: as near as their accuracies allow (M metres more, if said),
      with types that go together and names that are alike. Nothing is joined by it.
  density FILE… [--cell M] [--bandwidth M] [--out FILE.geojson]
      Features in squares of M metres (1000) in an equal-area plane, and by a quartic kernel of the
      bandwidth said. There is no bandwidth without you: it decides what is seen.
  report FILE… [--region FILE.geojson] [--within M]
      What was read and what is wrong in it, types and states, the nearest-neighbour index
      (Clark & Evans 1954; edge by Donnelly 1978), long axes (Rayleigh), features near zones (M: 500).
  setbacks FILE… --rules RULES.json --out FILE.geojson
      Areas by your own rules. There are no distances of ours: law and custom are local.

  --columns MAP.json   what columns and words of foreign files mean
  --with-unverified    count depressions and geophysical anomalies that nobody verified
  --types A,B          count these types only
  --json               one JSON document instead of text

  Rules: [{"type": "sinkhole", "distance_m": 15, "from": "edge", "with_uncertainty": true,
           "cites": "your local code"}]; type: any, sinkhole, or a code; from: edge, rim, point.
  Examples of distances in law, none of them yours: 300 ft for new feedlots from a sinkhole (Minnesota
  Rules 7020.2005); 25 ft easement and 10 ft to buildings (Bloomington, Indiana). Ask what applies to you.

  Files written here hold every place exactly: they are your own. For others there is "hollowline share", which hides
  places as your classes of confidentiality say. Law may ask for that, as 16 U.S.C. 4304 and 36 CFR 290.4 do for caves
  on United States federal land (examples only), and so may the owner: both are yours to know and to state.

  Distances are geodesics on the WGS 84 ellipsoid; areas are in an equal-area plane. Density shows
  where somebody looked and wrote down, not where the ground is safe.

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
