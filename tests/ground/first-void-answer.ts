import { factorOfPlacesM, type Place, passageResponse, type SurfaceElectrodes } from '../../src/ground/small-void';
import { refusalOf, type VoidQuestion, type VoidReading } from '../../src/ground/void-question';
import { proportionsOf, type StraightPassage, type VoidShape } from '../../src/ground/void-shape';
import { done, type Outcome, refuse } from '../../src/survey/outcome';
import { sphereSeriesResponse } from './sphere-series';

/** Shallowest that the closed forms are trusted, in radii. */
const SPHERE_RADII = 1.5;
const PASSAGE_RADII = 2;

/**
 * Errors of the closed forms for pole-pole readings, of ρa/ρ₁, at most this factor times (radius/depth)^power. Found
 * against the boundary elements of `createVoidModel` over spacings of 0.25-8 depths and midpoints up to 6 depths off:
 * spheres of every contrast 0.032, 0.0048, 0.0004 at 1.5, 2, 3 radii; empty passages of 40 m in any bearing 0.053,
 * 0.009, 0.003 at 2, 3, 4 radii.
 */
const SPHERE_ERROR = { factor: 0.4, power: 6 };
const PASSAGE_ERROR = { factor: 1.3, power: 4 };

/**
 * The answer to a question at once, by closed forms, with how far it may be off: a round chamber 1.5 radii deep or more
 * (all multipoles; left out is what its mirror image does to it), a round passage 2 radii deep or more that is filled
 * with air or with something that resists more than the host (a line of dipoles). For the rest `no_closed_form`:
 * flattened shapes, thin roofs, and passages whose fill conducts better than the host and leads current along.
 * Other refusals as `proportionsOf` and `refusalOf`.
 */
export function firstVoidAnswer(shape: VoidShape, question: VoidQuestion): Outcome<VoidReading[]> {
  const { place, hostOhmM, fillOhmM, electrodes } = question;
  const proportions = proportionsOf(shape, place.depthM);
  if (!proportions.ok) return proportions;
  const refused = refusalOf(question);
  if (refused) return refused;
  const levelM = electrodes[0]?.a[2] ?? 0;
  const centre: Place = [place.xM, place.yM, levelM - place.depthM];
  if (shape.kind === 'chamber') {
    const [radiusM, acrossM, downM] = shape.halfAxesM;
    if (radiusM === acrossM && radiusM === downM && place.depthM >= SPHERE_RADII * radiusM) {
      const error = SPHERE_ERROR.factor * (radiusM / place.depthM) ** SPHERE_ERROR.power;
      const sphere = { centre, radiusM, fillOhmM };
      return done(readingsOf(electrodes, error, (reading) => sphereSeriesResponse(sphere, hostOhmM, reading)));
    }
  } else {
    const radiusM = shape.heightM / 2;
    if (shape.widthM === shape.heightM && place.depthM >= PASSAGE_RADII * radiusM && fillOhmM >= hostOhmM) {
      const error = PASSAGE_ERROR.factor * (radiusM / place.depthM) ** PASSAGE_ERROR.power;
      const passage = { axis: axisOf(shape, centre, place.bearingDeg), radiusM, fillOhmM };
      return done(readingsOf(electrodes, error, (reading) => passageResponse(passage, hostOhmM, reading)));
    }
  }
  return refuse('no_closed_form', 'There is no quick answer for this void: ask for the full computation.');
}

function axisOf({ lengthM }: StraightPassage, [x, y, z]: Place, bearingDeg: number): [Place, Place] {
  const bearing = (bearingDeg * Math.PI) / 180;
  const [dx, dy] = [(lengthM / 2) * Math.cos(bearing), (lengthM / 2) * Math.sin(bearing)];
  return [
    [x - dx, y - dy, z],
    [x + dx, y + dy, z],
  ];
}

/** The error of each pair is that of a pole-pole reading; the pairs of an array are taken to add. */
function readingsOf(
  electrodes: readonly SurfaceElectrodes[],
  polePoleError: number,
  response: (reading: SurfaceElectrodes) => number,
): VoidReading[] {
  return electrodes.map((reading) => {
    const { a, b, m, n } = reading;
    const away = (p: Place | null, q: Place | null): number => (p && q ? 1 / Math.hypot(p[0] - q[0], p[1] - q[1]) : 0);
    const pairs = away(a, m) + away(a, n) + away(b, m) + away(b, n);
    const share = (Math.abs(factorOfPlacesM(reading)) / (2 * Math.PI)) * pairs;
    return { ratio: 1 + response(reading), ratioError: polePoleError * share };
  });
}
