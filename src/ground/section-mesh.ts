import { done, type Outcome, refuse } from '../survey/outcome';

/** The ground line as a curve in its upright plane: place by chainage. */
export type GroundLine = (chainageM: number) => readonly [alongM: number, heightM: number];

export interface MeshRequest {
  /** Distinct, growing. */
  readonly electrodesM: readonly number[];
  readonly ground: GroundLine;
  /** Chainages between which the ground is known, where that is farther than its electrodes. */
  readonly knownM?: readonly [number, number];
  /** The least distance between electrodes of one reading: cells are half as wide. */
  readonly spacingM: number;
  /** Depths of the bottoms of the layers of cells, growing; the last one goes on for ever. */
  readonly layersM: readonly number[];
  /** Elements across half a cell; 1 when not said. */
  readonly fineness?: number;
  /** How far the mesh goes beyond the electrodes and down, in line lengths; 8 when not said. */
  readonly padding?: number;
}

/**
 * Nodes in columns under the ground line, the same depths in every column. The frame is turned so that the first and last
 * electrode are level: where the ground is not known it is taken to go on along that slope, and depths are square to it.
 */
export interface SectionMesh {
  readonly xM: Float64Array;
  /** Of the ground at each column, in the turned frame. */
  readonly heightM: Float64Array;
  readonly depthM: Float64Array;
  /** Chainage of each column; beyond the ends it goes on in metres. */
  readonly chainageM: Float64Array;
  /** Column of each electrode. */
  readonly electrodeColumns: Int32Array;
  /** First element column of each column of cells, and the end of the last. */
  readonly cellColumns: readonly number[];
  /** First element row of each layer of cells, and the end of the last. */
  readonly cellRows: readonly number[];
}

/** Nodes at most: 200 electrodes of a ladder line come to some 60,000 (choice, for memory and time). */
const MOST_NODES = 150_000;
/** Steepest ground against the mean slope of the line. */
const STEEPEST = Math.tan((60 * Math.PI) / 180);
/** Growth of elements outside the cells from one to the next (choice). */
const GROWTH = 1.45;
const CELLS_BEYOND = 2;
const PADDING = 8;

/** Refusals: `section_too_large`, `ground_too_steep`. */
export function sectionMesh(request: MeshRequest): Outcome<SectionMesh> {
  const { electrodesM, spacingM, layersM, fineness = 1, padding = PADDING } = request;
  const first = electrodesM[0] as number;
  const last = electrodesM[electrodesM.length - 1] as number;
  const reachM = padding * Math.max(last - first, layersM[layersM.length - 2] ?? spacingM, 2 * spacingM);
  const along = columnsOf(electrodesM, spacingM, fineness, reachM);
  const down = rowsOf(layersM, fineness, reachM);
  if (along.chainages.length * down.depths.length > MOST_NODES) {
    return refuse(
      'section_too_large',
      `The section would need ${along.chainages.length * down.depths.length} nodes; ${MOST_NODES} is the most. Take fewer spacings or a shorter line at a time.`,
    );
  }
  const turned = turnedGround(request.ground, first, last, request.knownM ?? [first, last]);
  const places = along.chainages.map((chainage) => turned(chainage));
  for (let i = 1; i < places.length; i += 1) {
    const [p, q] = [places[i - 1] as readonly [number, number], places[i] as readonly [number, number]];
    if (q[0] - p[0] > 0 && Math.abs(q[1] - p[1]) <= STEEPEST * (q[0] - p[0])) continue;
    const where = Number((along.chainages[i] as number).toFixed(1));
    return refuse('ground_too_steep', `The ground is too steep for a section at ${where} m: check the heights there.`);
  }
  return done({
    xM: Float64Array.from(places, ([x]) => x),
    heightM: Float64Array.from(places, ([, height]) => height),
    depthM: Float64Array.from(down.depths),
    chainageM: Float64Array.from(along.chainages),
    electrodeColumns: Int32Array.from(along.electrodes),
    cellColumns: along.cells,
    cellRows: down.cells,
  });
}

/** Steps that grow until they have gone `reachM`. */
function growingSteps(firstM: number, reachM: number): number[] {
  const places: number[] = [];
  let step = firstM;
  for (let at = 0; at < reachM; ) {
    step *= GROWTH;
    at += step;
    places.push(at);
  }
  return places;
}

function columnsOf(electrodesM: readonly number[], spacingM: number, fineness: number, reachM: number) {
  const inner = [electrodesM[0] as number];
  const electrodes = [0];
  const cells: number[] = [];
  for (let e = 1; e < electrodesM.length; e += 1) {
    const from = electrodesM[e - 1] as number;
    const gap = (electrodesM[e] as number) - from;
    const parts = Math.max(1, Math.ceil(gap / (spacingM / 2) - 1e-6));
    for (let i = 1; i <= 2 * parts * fineness; i += 1) {
      if (i % (2 * fineness) === fineness) cells.push(inner.length);
      inner.push(from + (gap * i) / (2 * parts * fineness));
    }
    inner[inner.length - 1] = electrodesM[e] as number;
    electrodes.push(inner.length - 1);
  }
  const stepM = spacingM / 4 / fineness;
  const beyond = Array.from({ length: (2 * CELLS_BEYOND + 1) * fineness }, (_, i) => (i + 1) * stepM);
  const edge = beyond[beyond.length - 1] as number;
  const outside = [...beyond, ...growingSteps(stepM, reachM).map((at) => edge + at)];
  const shift = outside.length;
  const firstM = electrodesM[0] as number;
  const lastM = electrodesM[electrodesM.length - 1] as number;
  const chainages = [...outside.map((at) => firstM - at).reverse(), ...inner, ...outside.map((at) => lastM + at)];
  const end = shift + inner.length - 1;
  const bounds = [
    0,
    ...Array.from({ length: CELLS_BEYOND }, (_, i) => shift - (2 * (CELLS_BEYOND - i) - 1) * fineness),
    ...cells.map((at) => shift + at),
    ...Array.from({ length: CELLS_BEYOND }, (_, i) => end + (2 * i + 1) * fineness),
    chainages.length - 1,
  ];
  return { chainages, electrodes: electrodes.map((at) => shift + at), cells: bounds };
}

/** Two elements to a layer of cells, the last layer growing down to the end. */
function rowsOf(layersM: readonly number[], fineness: number, reachM: number) {
  const depths = [0];
  const cells = [0];
  const whole = layersM.slice(0, -1);
  for (const bottom of whole) {
    const top = depths[depths.length - 1] as number;
    for (let i = 1; i <= 2 * fineness; i += 1) depths.push(top + ((bottom - top) * i) / (2 * fineness));
    cells.push(depths.length - 1);
  }
  const bottom = depths[depths.length - 1] as number;
  const step = depths.length > 1 ? bottom - (depths[depths.length - 2] as number) : (layersM[0] as number) / 4;
  for (const at of growingSteps(step / GROWTH, reachM)) depths.push(bottom + at);
  cells.push(depths.length - 1);
  return { depths, cells };
}

function turnedGround(ground: GroundLine, first: number, last: number, known: readonly [number, number]): GroundLine {
  const [x0, z0] = ground(first);
  const [x1, z1] = ground(last);
  const length = Math.hypot(x1 - x0, z1 - z0);
  const [cos, sin] = [(x1 - x0) / length, (z1 - z0) / length];
  const [from, to] = [Math.min(first, known[0]), Math.max(last, known[1])];
  return (chainageM) => {
    const [x, z] = ground(Math.min(to, Math.max(from, chainageM)));
    const beyond = chainageM < from ? chainageM - from : Math.max(0, chainageM - to);
    return [(x - x0) * cos + (z - z0) * sin + beyond, (z - z0) * cos - (x - x0) * sin];
  };
}
