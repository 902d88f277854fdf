/**
 * ρa in Ω·m over three layers at 2, 4, 8 and 20 m, for resistivities `rho` (Ω·m) and thicknesses `h` (m). Kernel of Koefoed
 * 1979, Geosounding Principles 1; computed for this project twice, by the Hankel integral in 30 digits and by a power
 * series of images, with all digits below the same.
 */
export const THREE_LAYERS = [
  {
    rho: [100, 1000, 100],
    h: [1, 3],
    polePole: [253.321097, 290.147272, 259.390246, 146.215623],
    wenner: [216.494922, 320.904297, 347.057496, 185.481094],
  },
  {
    rho: [100, 10, 100],
    h: [1, 3],
    polePole: [33.186837, 31.296983, 43.870697, 65.637558],
    wenner: [35.07669, 18.723269, 27.48227, 50.443037],
  },
  {
    rho: [50, 200, 2000],
    h: [2, 5],
    polePole: [148.752305, 233.553554, 369.954629, 656.218552],
    wenner: [63.951055, 97.152478, 165.400516, 359.041241],
  },
] as const;

/**
 * More of the same, computed for this project once: mpmath 1.3 in 30 digits, the recursion with tanh, integrated along
 * the real axis, up to the first zero of the Bessel function in pieces shorter by ten each (`quad`), then between zeros with
 * extrapolation (`quadosc`). The ideal Schlumberger values are
 * ρ₁ + s²∫(T − ρ₁)·J₁(λs)·λ dλ.
 */
export const BY_QUADRATURE = [
  { array: 'pole_pole', spacingM: 5, rho: [100, 1, 10000], h: [1, 2], expected: 21.11573018628 },
  { array: 'pole_pole', spacingM: 10, rho: [10000, 1, 1000], h: [1, 1.5], expected: 34.229496305415 },
  { array: 'pole_pole', spacingM: 1, rho: [10000, 1, 1000], h: [1, 1.5], expected: 4012.2099712242 },
  { array: 'pole_pole', spacingM: 30, rho: [1, 10000, 1], h: [1, 1], expected: 41.405104110657 },
  { array: 'wenner_alpha', spacingM: 5, rho: [100, 1, 10000], h: [1, 2], expected: 3.8117865552315 },
  { array: 'wenner_alpha', spacingM: 50, rho: [10000, 1, 100], h: [0.5, 4], expected: 14.905962657456 },
  { array: 'wenner_alpha', spacingM: 0.05, rho: [30, 3000, 3], h: [2, 3], expected: 30.000404751819 },
  { array: 'wenner_alpha', spacingM: 100, rho: [30, 3000, 3], h: [2, 3], expected: 34.16249630602 },
  { array: 'dipole_dipole', spacingM: 4, n: 6, rho: [50, 500, 5, 2000], h: [1, 2, 10], expected: 43.923547724216 },
  { array: 'dipole_dipole', spacingM: 2, n: 3, rho: [1000, 20, 300], h: [0.7, 1.9], expected: 39.541252754148 },
  {
    array: 'schlumberger',
    spacingM: 10,
    innerSpacingM: 2,
    rho: [80, 15, 600, 60],
    h: [0.6, 1.3, 7.1],
    expected: 86.056612572515,
  },
  { array: 'ideal_schlumberger', spacingM: 10, rho: [80, 15, 600, 60], h: [0.6, 1.3, 7.1], expected: 86.564546837923 },
  { array: 'ideal_schlumberger', spacingM: 3, rho: [50, 200, 2000], h: [2, 5], expected: 66.044299930742 },
] as const;
