import { done, type Outcome, refuse } from '../survey/outcome';
import { type DenseLu, factorise, solve } from './dense-lu';
import { doubleLayer, electrodeVectors } from './half-space-kernel';
import { factorOfPlacesM, type Place, type SurfaceElectrodes } from './small-void';
import { type Fineness, meshOf, passagePanelCount, type QuarterMesh } from './void-mesh';
import { refusalOf, type VoidPlace, type VoidQuestion, type VoidReading } from './void-question';
import { type Proportions, proportionsOf, type VoidShape } from './void-shape';

/*
 * What a void does to a reading, by boundary elements (the direct form of the integral equation for a body in an
 * insulated half-space; Brebbia, Telles & Wrobel 1984, Boundary Element Techniques; Green's second identity inside and
 * outside, current continuous). With q = σ₂/σ₁ (fill over host), κ = (q − 1)/(q + 1) and the total potential φ on the
 * surface of the body,
 *     (½ + κK) φ = φ₀/(1 + q),    change at an electrode = (1 − q) ∫ φ ∂G/∂n dS.
 * Air: κ = −1; a perfect conductor: κ = +1. (The code solves for (1 + q) φ, which stays finite for a conductor, and
 * (1 − q)/(1 + q) = −κ.) φ is taken as even over each flat panel, and the equation is met at its middle.
 * An even potential drives no current and must give no change: K 1 = −½ and ∫ ∂G/∂n dS = 0 hold exactly here (see
 * half-space-kernel). So an even potential may be added to φ at will; adding ½ of its mean over the surface to K does
 * that, and keeps the equations solvable up to perfect conductors.
 */

export interface VoidModel {
  readonly proportions: Proportions;
  /** Panels of the body: of the usual mesh, and of the two that refine it. */
  readonly panels: readonly number[];
  /**
   * One reading for each of the electrodes asked for, in their order; the void takes its size from the depth asked for,
   * by its proportions. Refusals of `refusalOf`.
   */
  answer(question: VoidQuestion): Outcome<VoidReading[]>;
}

export interface VoidModelOptions {
  /** Even steps in a right angle of a chamber (6: 288 panels) or of the section of a passage (4); more where thin. */
  readonly quarterTurn?: number;
  /** Solve with smaller panels too and extrapolate (error ∝ size²); true when not said. Takes some 20 times longer. */
  readonly refine?: boolean;
  /**
   * Panels of a passage before refinement at most; one that would need more is cut more coarsely lengthwise, far from
   * its middle first. 900 when not said.
   */
  readonly mostPanels?: number;
}

/** Panels of a whole passage before refinement where no other number is given (choice). */
const USUAL_MOST_PANELS = 900;
/** Depths to either side of the middle of a passage that are cut finely: at most, and where panels run short (choice). */
const MOST_EVEN = 10;
const LEAST_EVEN = 4;
/** Of the usual mesh, and of the two that refine it to panels of two thirds and of half the size. */
const CUTS = [2, 3, 4] as const;
/** Contrasts that a mesh stays factorised for (choice). */
const MOST_CONTRASTS = 2;

/**
 * The void of a shape whose centre or axis lies `depthM` deep, ready for any place, contrast and electrodes; only its
 * proportions count. `ratioError` of its answers is the larger of what extrapolation to panels of no size still changes
 * and four times what it comes to differently from another pair of meshes, plus half of what exchanging current and
 * potential changes on the finest (choice); null without refinement.
 * Refusals: those of `proportionsOf`, and `roof_too_thin`.
 */
export function createVoidModel(shape: VoidShape, depthM: number, options: VoidModelOptions = {}): Outcome<VoidModel> {
  const proportions = proportionsOf(shape, depthM);
  if (!proportions.ok) return proportions;
  if (proportions.value.roof < THINNEST_ROOF) {
    return refuse(
      'roof_too_thin',
      `A roof thinner than ${100 * THINNEST_ROOF} % of the depth cannot be computed: take the void as open, or a smaller one.`,
    );
  }
  const fineness = finenessFor(proportions.value, options);
  const cuts = options.refine === false ? CUTS.slice(0, 1) : CUTS;
  const bodies = cuts.map((cut) => bodyOf(meshOf(proportions.value, { ...fineness, cut })));
  return done({
    proportions: proportions.value,
    panels: bodies.map((body) => 4 * body.mesh.count),
    answer: (question) => answerOf(bodies, question),
  });
}

/** Thinnest roof, as a share of the depth, that the panels are made to stay below (choice). */
const THINNEST_ROOF = 0.02;

/**
 * Corners stand out of the true surface by 0.50/n² (chamber) or 0.21/n² (passage) of its half-height, n the steps in a
 * right angle (measured on the meshes): never by more than a quarter of the roof. Steps along a passage are no longer
 * than its roof is thick and than half its depth, as far as the panels allow; where they do not, they are longer far
 * from its middle, then everywhere.
 */
function finenessFor({ shape, roof }: Proportions, options: VoidModelOptions): Fineness {
  const passage = shape.kind === 'passage';
  const least = Math.ceil(Math.sqrt((4 * (passage ? 0.21 : 0.5) * (1 - roof)) / roof));
  const quarterTurn = Math.ceil(Math.max(least, options.quarterTurn ?? (passage ? 4 : 6)) / 2);
  let fineness: Fineness = { quarterTurn, axialPerDepth: Math.max(1, 0.5 / roof), evenDepths: MOST_EVEN, cut: CUTS[0] };
  if (!passage) return fineness;
  const tooMany = (): boolean => passagePanelCount(shape.lengthM, fineness) > (options.mostPanels ?? USUAL_MOST_PANELS);
  while (tooMany() && fineness.evenDepths > LEAST_EVEN) {
    fineness = { ...fineness, evenDepths: fineness.evenDepths - 0.5 };
  }
  while (tooMany() && fineness.axialPerDepth > 0.05) {
    fineness = { ...fineness, axialPerDepth: fineness.axialPerDepth * 0.95 };
  }
  return fineness;
}

/** A mesh with its double-layer matrices, and their factors for the contrasts that were asked last. */
interface Body {
  readonly mesh: QuarterMesh;
  readonly layers: readonly Float64Array[];
  readonly factors: Map<number, readonly DenseLu[]>;
}

function bodyOf(mesh: QuarterMesh): Body {
  return { mesh, layers: doubleLayer(mesh), factors: new Map() };
}

function factorsFor(body: Body, kappa: number): readonly DenseLu[] {
  const known = body.factors.get(kappa);
  if (known) return known;
  const { mesh, layers, factors } = body;
  const made = layers.map((layer, parity) => factorise(system(layer, mesh, kappa, parity === 0), mesh.count));
  const [oldest] = factors.keys();
  if (factors.size >= MOST_CONTRASTS && oldest !== undefined) factors.delete(oldest);
  factors.set(kappa, made);
  return made;
}

/** ½ + κK, K with half the mean over the surface added where potentials are even in both planes. */
function system(layer: Float64Array, { count, areas }: QuarterMesh, kappa: number, even: boolean): Float64Array {
  const entries = new Float64Array(layer.length);
  const areaOf = areas.reduce((sum, area) => sum + area, 0);
  for (let i = 0; i < count; i += 1) {
    for (let j = 0; j < count; j += 1) {
      const mean = even ? (0.5 * (areas[j] as number)) / areaOf : 0;
      entries[i * count + j] = kappa * ((layer[i * count + j] as number) + mean) + (i === j ? 0.5 : 0);
    }
  }
  return entries;
}

/** An electrode as a body meets it: the potential that it makes there, solved, and its flux through the panels. */
interface Met {
  readonly solved: readonly Float64Array[];
  readonly flux: readonly Float64Array[];
}

const isNothing = (values: Float64Array): boolean => values.every((value) => value === 0);

function meet(body: Body, factors: readonly DenseLu[], [x, y]: readonly [number, number]): Met {
  const { potential, flux } = electrodeVectors(body.mesh, x, y);
  const solved = potential.map((right, p) => (isNothing(right) ? right : solve(factors[p] as DenseLu, right)));
  return { solved, flux };
}

/** −κ ∫ φ ∂G/∂n dS: current at `from`, potential at `to`. */
function change(kappa: number, from: Met, to: Met): number {
  let sum = 0;
  for (const [p, potential] of from.solved.entries()) {
    const flux = to.flux[p] as Float64Array;
    for (let j = 0; j < flux.length; j += 1) sum += (potential[j] as number) * (flux[j] as number);
  }
  return -kappa * sum;
}

/** Sum over the pairs of a four-electrode reading; a remote electrode sees nothing of the void. */
function changeOf(kappa: number, met: ReadonlyMap<Place, Met>, current: Poles, potential: Poles): number {
  let sum = 0;
  for (const [i, c] of current.entries()) {
    for (const [j, p] of potential.entries()) {
      const [from, to] = [c && met.get(c), p && met.get(p)];
      if (from && to) sum += (i === j ? 1 : -1) * change(kappa, from, to);
    }
  }
  return sum;
}

type Poles = readonly [Place, Place | null];

function answerOf(bodies: readonly Body[], question: VoidQuestion): Outcome<VoidReading[]> {
  const { place, hostOhmM, fillOhmM, electrodes } = question;
  const refused = refusalOf(question);
  if (refused) return refused;
  const kappa = fillOhmM === Infinity ? -1 : (hostOhmM - fillOhmM) / (hostOhmM + fillOhmM);
  const found = bodies.map((body) => {
    const factors = factorsFor(body, kappa);
    const met = meetings(body, factors, place, electrodes);
    return electrodes.map((reading): Both => {
      const scale = factorOfPlacesM(reading) / place.depthM;
      const [current, potential]: [Poles, Poles] = [
        [reading.a, reading.b],
        [reading.m, reading.n],
      ];
      const there = scale * changeOf(kappa, met, current, potential);
      const back = scale * changeOf(kappa, met, potential, current);
      return { change: (there + back) / 2, asymmetry: Math.abs(there - back) };
    });
  });
  return done(electrodes.map((_, k) => extrapolated(found.map((readings) => readings[k] as Both))));
}

/** Error ∝ 1/cut²: from the usual and the finest mesh; its error from the mesh between them. */
function extrapolated([usual, between, finest]: readonly Both[]): VoidReading {
  if (!usual) throw new Error('a void model has a mesh');
  if (!between || !finest) return { ratio: 1 + usual.change, ratioError: null };
  const change = finest.change + (finest.change - usual.change) / 3;
  const other = between.change + (between.change - usual.change) / 1.25;
  const error = Math.max(Math.abs(change - finest.change), 4 * Math.abs(change - other)) + finest.asymmetry / 2;
  return { ratio: 1 + change, ratioError: error };
}

interface Both {
  /** Of the ratio; the mean of both directions of the current, which are equal but for the panels. */
  readonly change: number;
  readonly asymmetry: number;
}

/** Every electrode of the readings, met once though it serve many of them. */
function meetings(
  body: Body,
  factors: readonly DenseLu[],
  place: VoidPlace,
  electrodes: readonly SurfaceElectrodes[],
): ReadonlyMap<Place, Met> {
  const byPlace = new Map<Place, Met>();
  const byKey = new Map<string, Met>();
  for (const { a, b, m, n } of electrodes) {
    for (const electrode of [a, b, m, n]) {
      if (!electrode || byPlace.has(electrode)) continue;
      const own = inFrameOf(place, electrode);
      const key = own.join(' ');
      const met = byKey.get(key) ?? meet(body, factors, own);
      byKey.set(key, met);
      byPlace.set(electrode, met);
    }
  }
  return byPlace;
}

/** Electrode in the frame of the void, in depths; a place within rounding of a mirror plane is put on it. */
function inFrameOf({ xM, yM, depthM, bearingDeg }: VoidPlace, electrode: Place): readonly [number, number] {
  const bearing = (bearingDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(bearing), Math.sin(bearing)];
  const [dx, dy] = [(electrode[0] - xM) / depthM, (electrode[1] - yM) / depthM];
  const onPlane = (x: number): number => (Math.abs(x) < 1e-12 * (1 + Math.abs(dx) + Math.abs(dy)) ? 0 : x);
  return [onPlane(dx * cos + dy * sin), onPlane(dy * cos - dx * sin)];
}
