declare module 'magvar' {
  /** Declination in degrees, rounded to 0.01; height in km. */
  export function magvar(lat: number, lon: number, heightKm: number, decimalYear: number): number;
  const magvarPackage: { magvar: typeof magvar };
  export default magvarPackage;
}
