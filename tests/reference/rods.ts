/**
 * Contact of one driven rod, ρ/(2πL)·(ln(4L/r) − 1) (Dwight 1936, AIEE Transactions 55:1319; also in IEEE Std 142, from
 * memory). Values computed for this project from the formula.
 */
export const RODS = [
  { lengthM: 0.3, radiusM: 0.005, groundOhmM: 100, contactOhm: 237.705278 },
  { lengthM: 3, radiusM: 0.008, groundOhmM: 100, contactOhm: 33.492674 },
] as const;

/** Two such rods 6 m apart, joined (formula of the same paper, seen on a secondary page); computed likewise. */
export const ROD_PAIR = { lengthM: 3, radiusM: 0.008, apartM: 6, groundOhmM: 100, contactOhm: 17.995261 } as const;

/**
 * A rod of 10 ft × ⅝ in in soils of the table of IEEE Std 142 (resistivities after US Bureau of Standards report 108 seen on a
 * secondary page; ohms from memory, whole numbers).
 */
export const IEEE_142_ROD = {
  lengthFt: 10,
  diameterIn: 0.625,
  soils: [
    { resistivityOhmCm: 2370, contactOhm: 8 },
    { resistivityOhmCm: 7000, contactOhm: 23 },
    { resistivityOhmCm: 4060, contactOhm: 13 },
    { resistivityOhmCm: 15800, contactOhm: 52 },
    { resistivityOhmCm: 94000, contactOhm: 311 },
  ],
} as const;

/**
 * Two rods of 0.3 m × 10 mm in uniform ground of 100 Ω·m: R of two terminals, and the figure 2πaR that a meter makes of it.
 * R = 2·Rc − ρ/(πa), rods as points to each other; computed for this project.
 */
export const TWO_TERMINALS = [
  { spacingM: 2, resistanceOhm: 459.4951, figureOhmM: 5774.19 },
  { spacingM: 4, resistanceOhm: 467.4528, figureOhmM: 11748.37 },
  { spacingM: 8, resistanceOhm: 471.4317, figureOhmM: 23696.74 },
  { spacingM: 20, resistanceOhm: 473.819, figureOhmM: 59541.85 },
] as const;
