/** Straight distances between electrodes in metres; Infinity for a remote electrode taken as infinitely far. */
export interface ElectrodeDistances {
  readonly am: number;
  readonly an: number;
  readonly bm: number;
  readonly bn: number;
}

/**
 * K in metres, so that ρa = K·R for electrodes on flat, uniform ground:
 * K = 2π / (1/AM − 1/AN − 1/BM + 1/BN).
 * Source: Singha et al. 2022, Electrical Imaging for Hydrogeology, eq. 6a (books.gw-project.org); Telford, Geldart &
 * Sheriff 1990, ch. 8. Infinite where the array has no response (e.g. potential electrodes at equal distances).
 */
export function geometricFactorM({ am, an, bm, bn }: ElectrodeDistances): number {
  return (2 * Math.PI) / (1 / am - 1 / an - 1 / bm + 1 / bn);
}

/**
 * The factor that a two-probe figure is shown with: 2πa. It turns ohms into the ohm-metres that the meter shows; it is
 * not a geometric factor, since R there is mostly the contact of the two rods.
 */
export function twoProbeFactorM(spacingM: number): number {
  return 2 * Math.PI * spacingM;
}
