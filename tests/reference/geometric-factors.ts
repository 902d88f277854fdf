/**
 * Geometric factors in metres for flat, uniform ground.
 * Source of the formulas: Telford, Geldart & Sheriff 1990, Applied Geophysics, ch. 8; Singha et al. 2022, Electrical
 * Imaging for Hydrogeology, eq. 6a (books.gw-project.org). Numbers computed for this project from the closed forms
 * named beside them and, independently, from the general formula.
 */
export const GEOMETRIC_FACTORS_M = [
  { hookup: 'pole_pole', spacingM: 2, factorM: 12.566371, form: '2πa' },
  { hookup: 'pole_pole', spacingM: 20, factorM: 125.663706, form: '2πa' },
  { hookup: 'wenner_alpha', spacingM: 4, factorM: 25.132741, form: '2πa' },
  { hookup: 'wenner_beta', spacingM: 2, factorM: 37.699112, form: '6πa' },
  { hookup: 'wenner_gamma', spacingM: 2, factorM: 18.849556, form: '3πa' },
  { hookup: 'schlumberger', spacingM: 10, innerSpacingM: 1, factorM: 313.373867, form: 'π(L²−l²)/2l' },
  { hookup: 'schlumberger', spacingM: 10, innerSpacingM: 2, factorM: 155.508836, form: 'π(L²−l²)/2l' },
  { hookup: 'schlumberger', spacingM: 20, innerSpacingM: 4, factorM: 311.017673, form: 'π(L²−l²)/2l' },
  { hookup: 'dipole_dipole', spacingM: 2, n: 1, factorM: 37.699112, form: 'πn(n+1)(n+2)a' },
  { hookup: 'dipole_dipole', spacingM: 2, n: 3, factorM: 376.991118, form: 'πn(n+1)(n+2)a' },
  { hookup: 'dipole_dipole', spacingM: 2, n: 4, factorM: 753.982237, form: 'πn(n+1)(n+2)a' },
  { hookup: 'pole_dipole', spacingM: 2, n: 1, factorM: 25.132741, form: '2πn(n+1)a' },
  { hookup: 'pole_dipole', spacingM: 2, n: 4, factorM: 251.327412, form: '2πn(n+1)a' },
] as const;

/** Four scattered electrodes; computed for this project from the general formula. */
export const SCATTERED = { a: [0, 0], b: [30, 5], m: [4, 3], n: [12, -5], factorM: 47.138161 } as const;

/**
 * Error in % of 2πaR in uniform ground when the remotes stand r away, in line at opposite ends (C = 0, P = a, B = −r,
 * N = a + r), and with the current remote only. Computed for this project by code and by the closed form
 * 1 − a/r_BP − a/r_CN + a/r_BN. Published practice: Robain et al. 1999, doi 10.1016/S0926-9851(99)00010-5.
 */
export const FINITE_REMOTES = [
  { distanceOverSpacing: 5, both: -24.242, currentOnly: -16.667 },
  { distanceOverSpacing: 10, both: -13.42, currentOnly: -9.091 },
  { distanceOverSpacing: 20, both: -7.085, currentOnly: -4.762 },
  { distanceOverSpacing: 50, both: -2.931, currentOnly: -1.961 },
  { distanceOverSpacing: 100, both: -1.483, currentOnly: -0.99 },
] as const;

/**
 * Median depth of the response of uniform ground over the spacing. `edwards`: Edwards 1977, Geophysics 42:1020–1036,
 * values from memory to three figures. `computed`: for this project, closed form (pole-pole) and root finding.
 */
export const MEDIAN_DEPTHS = [
  { hookup: 'pole_pole', n: null, computed: 0.866025, edwards: 0.867 },
  { hookup: 'wenner_alpha', n: null, computed: 0.519023, edwards: 0.519 },
  { hookup: 'wenner_beta', n: null, computed: 0.415943, edwards: 0.416 },
  { hookup: 'wenner_gamma', n: null, computed: 0.595289, edwards: 0.594 },
  { hookup: 'dipole_dipole', n: 1, computed: 0.415943, edwards: 0.416 },
  { hookup: 'dipole_dipole', n: 2, computed: 0.697223, edwards: 0.697 },
  { hookup: 'dipole_dipole', n: 6, computed: 1.73, edwards: 1.73 },
  { hookup: 'pole_dipole', n: 1, computed: 0.519023, edwards: 0.519 },
  { hookup: 'pole_dipole', n: 6, computed: 2.47821, edwards: 2.478 },
] as const;

/** Share of the pole-pole response from above a depth: p → depth/a. Closed form (a/2)·√(1/(1−p)² − 1). */
export const POLE_POLE_SHARES = [
  { share: 0.05, depthOverSpacing: 0.164342 },
  { share: 0.1, depthOverSpacing: 0.242161 },
  { share: 0.25, depthOverSpacing: 0.440959 },
  { share: 0.292893, depthOverSpacing: 0.5 },
  { share: 0.75, depthOverSpacing: 1.936492 },
  { share: 0.9, depthOverSpacing: 4.974937 },
] as const;

/** ASTM G57: ρ [Ω·cm] = 191.5·a·R with a in feet; the worked value 10 ft, 5 Ω → 9575 Ω·cm (text of G57-95a). */
export const ASTM_G57 = { constant: 191.5, spacingFt: 10, resistanceOhm: 5, resistivityOhmCm: 9575 } as const;

/**
 * ASTM G57, unequal spacings: ρ [Ω·cm] = 95.76·b·R/(1 − b/(b + a)), b outer and a inner spacing in feet (text of G57-95a); the
 * value worked out for this project from that formula.
 */
export const ASTM_G57_UNEQUAL = { outerFt: 5, innerFt: 10, resistanceOhm: 20, resistivityOhmCm: 14364 } as const;

/**
 * K in metres of point electrodes at a depth. Pole-pole 4π/(1/a + 1/√(a² + 4b²)); Wenner by IEEE Std 81,
 * 4πa/(1 + 2a/√(a² + 4b²) − a/√(a² + b²)) (formula from memory). Computed for this project from these forms.
 */
export const BURIED_ELECTRODES = [
  { hookup: 'pole_pole', spacingM: 2, depthM: 0.1, factorM: 12.59763 },
  { hookup: 'pole_pole', spacingM: 2, depthM: 0.3, factorM: 12.837064 },
  { hookup: 'pole_pole', spacingM: 4, depthM: 0.3, factorM: 25.272544 },
  { hookup: 'wenner_alpha', spacingM: 2, depthM: 0.1, factorM: 12.621133 },
  { hookup: 'wenner_alpha', spacingM: 2, depthM: 0.3, factorM: 13.04434 },
  { hookup: 'wenner_alpha', spacingM: 4, depthM: 0.3, factorM: 25.377976 },
  { hookup: 'wenner_alpha', spacingM: 8, depthM: 0.3, factorM: 50.38891 },
  { hookup: 'wenner_alpha', spacingM: 20, depthM: 0.3, factorM: 125.713169 },
] as const;

/**
 * Error in % of 2πaR in uniform ground with remotes r away: in line at opposite ends, square off the line on opposite
 * sides, and the current remote only, in line. Computed for this project by code and by closed form.
 */
export const REMOTE_ERRORS = [
  { distanceOverSpacing: 5, inLine: -24.242, squareOff: -29.273, currentOnly: -16.667 },
  { distanceOverSpacing: 10, inLine: -13.42, squareOff: -14.907, currentOnly: -9.091 },
  { distanceOverSpacing: 20, inLine: -7.085, squareOff: -7.488, currentOnly: -4.762 },
  { distanceOverSpacing: 30, inLine: -4.812, squareOff: -4.997, currentOnly: -3.226 },
  { distanceOverSpacing: 50, inLine: -2.931, squareOff: -2.999, currentOnly: -1.961 },
  { distanceOverSpacing: 100, inLine: -1.483, squareOff: -1.5, currentOnly: -0.99 },
] as const;
