import { done, type Outcome, refuse } from '../survey/outcome';

/** An ellipsoid; a sphere has three equal half-axes. */
export interface Chamber {
  readonly kind: 'chamber';
  /** Half-axes in metres: along its bearing, level across it, and down. */
  readonly halfAxesM: readonly [alongM: number, acrossM: number, downM: number];
}

/** A straight level tube with an elliptical section and flat ends; round where width and height are equal. */
export interface StraightPassage {
  readonly kind: 'passage';
  /** End to end, metres. */
  readonly lengthM: number;
  readonly widthM: number;
  readonly heightM: number;
}

export type VoidShape = Chamber | StraightPassage;

/** Length of a passage where none is given, metres (choice). */
export const USUAL_PASSAGE_LENGTH_M = 40;

export const roundChamber = (radiusM: number): Chamber => ({ kind: 'chamber', halfAxesM: [radiusM, radiusM, radiusM] });

export const roundPassage = (radiusM: number, lengthM = USUAL_PASSAGE_LENGTH_M): StraightPassage => ({
  kind: 'passage',
  lengthM,
  widthM: 2 * radiusM,
  heightM: 2 * radiusM,
});

/** A shape in units of its depth: all that its answer depends on but contrast and place. */
export interface Proportions {
  readonly shape: VoidShape;
  /** Ground over its highest point, in depths of its centre. */
  readonly roof: number;
  /** Equal for equal proportions (to 12 digits). */
  readonly key: string;
}

/**
 * A shape over the depth of its centre or axis (metres).
 * Refusals: `void_size_not_positive` (a length that is not a number above zero), `void_breaks_ground` (no roof left).
 */
export function proportionsOf(shape: VoidShape, depthM: number): Outcome<Proportions> {
  const lengths = shape.kind === 'chamber' ? shape.halfAxesM : [shape.lengthM, shape.widthM, shape.heightM];
  if (![...lengths, depthM].every((length) => length > 0 && length < Infinity)) {
    return refuse('void_size_not_positive', 'A void needs a size and a depth above zero: give them in metres.');
  }
  const down = shape.kind === 'chamber' ? shape.halfAxesM[2] : shape.heightM / 2;
  const roof = 1 - down / depthM;
  if (!(roof > 0)) {
    return refuse(
      'void_breaks_ground',
      `A void that reaches ${down} m up from ${depthM} m down has no roof: give the depth of its middle, or a smaller one.`,
    );
  }
  const shares = lengths.map((length) => length / depthM) as [number, number, number];
  const [first, second, third] = shares;
  return done({
    shape:
      shape.kind === 'chamber'
        ? { kind: 'chamber', halfAxesM: shares }
        : { kind: 'passage', lengthM: first, widthM: second, heightM: third },
    roof,
    key: [shape.kind, ...shares.map((share) => share.toPrecision(12))].join(' '),
  });
}
