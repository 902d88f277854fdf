/** The largest of 1, 2, 5 × 10^n that is not above `lengthM`; both in metres. */
export function roundLengthDown(lengthM: number): number {
  const power = 10 ** Math.floor(Math.log10(lengthM));
  const lead = lengthM / power;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}

/** The smallest of 1, 2, 5 × 10^n that is not below `lengthM`; both in metres. */
export function roundLengthUp(lengthM: number): number {
  const power = 10 ** Math.floor(Math.log10(lengthM));
  const lead = lengthM / power;
  return (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10) * power;
}

/** A round length as written on the map: `0.5 m`, `20 m`, `2 km`. */
export function lengthLabel(lengthM: number): string {
  return lengthM >= 1000 ? `${Number((lengthM / 1000).toPrecision(6))} km` : `${Number(lengthM.toPrecision(6))} m`;
}
