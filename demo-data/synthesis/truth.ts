/*
 * The stated truth of Brackamore Slade, an invented place: what the demo's readings are computed from, and what a tool
 * should find in them. Nothing here was measured anywhere.
 * Places are metres east and north of the origin, heights metres in a height system of the site's own.
 */

export const SITE_NAME = 'Brackamore Slade';
export const ORIGIN = { lon: -91.9137, lat: 37.4086 } as const;

export interface PlanPlace {
  readonly eastM: number;
  readonly northM: number;
}

/** Soil, Ω·m: within the 80–1050 of dry sandy soil (Reynolds 2011, table 7.1). */
export const SOIL_OHM_M = 180;
/** Limestone, Ω·m: within the 50–1e7 of limestone (same table); little over three times the soil, so that ladders rise gently. */
export const LIMESTONE_OHM_M = 600;
/** Median thickness of the soil, m. */
export const SOIL_THICKNESS_M = 0.7;
/** Standard deviation of ln(thickness): how uneven the rock surface is. */
export const SOIL_RELIEF = 0.12;

/** The passage: air-filled, choked at both ends, following the ground at about the same depth. */
export const PASSAGE_RADIUS_M = 1.45;
export const PASSAGE_NODES: readonly (PlanPlace & { readonly depthM: number })[] = [
  { eastM: 6, northM: -46, depthM: 2.6 },
  { eastM: 1.5, northM: -24, depthM: 2.5 },
  { eastM: -1.5, northM: -8, depthM: 2.5 },
  { eastM: 1.5, northM: 8, depthM: 2.45 },
  { eastM: -0.5, northM: 24, depthM: 2.5 },
  { eastM: -4, northM: 42, depthM: 2.6 },
  { eastM: -11, northM: 64, depthM: 2.6 },
];

/** Rods of the two-probe line, m. */
export const ROD_LENGTH_M = 0.3;
export const ROD_RADIUS_M = 0.005;
/** Standard deviation of ln(contact) from rod to rod. */
export const CONTACT_SCATTER = 0.15;
/** Standard deviation of ln(reading) of a meter with its remotes out, and of the two-probe meter on the same rods. */
export const READING_NOISE = 0.03;
export const TWO_PROBE_NOISE = 0.01;

/** Uniform numbers from 0 to 1, the same for the same seed: a Weyl counter through the finaliser of MurmurHash3. */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}

/** Normal numbers of mean 0 and standard deviation 1 (Box & Muller 1958). */
export function normalFrom(seed: number): () => number {
  const uniform = randomFrom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

interface Wave {
  readonly perEastM: number;
  readonly perNorthM: number;
  readonly phase: number;
}

/** Waves of the rock surface: lengths of 7 to 30 m, any direction and phase. */
const WAVES: readonly Wave[] = (() => {
  const uniform = randomFrom(41);
  const count = 7;
  return Array.from({ length: count }, (_, i) => {
    const lengthM = 7 * (30 / 7) ** (i / (count - 1));
    const direction = 2 * Math.PI * uniform();
    return {
      perEastM: (2 * Math.PI * Math.cos(direction)) / lengthM,
      perNorthM: (2 * Math.PI * Math.sin(direction)) / lengthM,
      phase: 2 * Math.PI * uniform(),
    };
  });
})();

/** Soil thickness in metres at a place: the median times the exponential of a sum of cosines. */
export function soilThicknessM({ eastM, northM }: PlanPlace): number {
  let sum = 0;
  for (const wave of WAVES) sum += Math.cos(wave.perEastM * eastM + wave.perNorthM * northM + wave.phase);
  return SOIL_THICKNESS_M * Math.exp(SOIL_RELIEF * Math.sqrt(2 / WAVES.length) * sum);
}

/** Rises from 0 with slope 1 beyond s = 0, the kink rounded over a few `roundM`. */
const ramp = (s: number, roundM: number): number => roundM * Math.log1p(Math.exp(s / roundM));

/** Height of the ground in metres: a valley floor, a hillside of 25 % to the north-east and one of 16 % to the south-west. */
export function groundHeightM({ eastM, northM }: PlanPlace): number {
  const across = 0.5 * eastM + 0.866 * northM;
  const along = 0.866 * eastM - 0.5 * northM;
  const floor = 231.3 - 0.012 * along;
  const northEast = 0.25 * (ramp(across - 17.5, 1.2) - ramp(across - 90, 8));
  const southWest = 0.16 * (ramp(-across - 85, 3) - ramp(-across - 150, 8));
  const hollow = (centreEastM: number, centreNorthM: number, deepM: number, wideM: number): number =>
    deepM * Math.exp(-((eastM - centreEastM) ** 2 + (northM - centreNorthM) ** 2) / (2 * wideM ** 2));
  const swell = 0.8 * Math.cos(eastM / 33 + northM / 41 + 1) + 0.5 * Math.cos(eastM / 26 - northM / 19);
  return floor + swell + northEast + southWest - hollow(-19, 86, 3.2, 7) - hollow(22, -72, 1.9, 8);
}
