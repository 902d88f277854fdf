/** Latitude and longitude to a decimetre, with hemisphere letters. */
export function latLonWords(lon: number, lat: number): string {
  const side = (degrees: number, positive: string, negative: string) =>
    `${Math.abs(degrees).toFixed(6)}° ${degrees < 0 ? negative : positive}`;
  return `${side(lat, 'N', 'S')}, ${side(lon, 'E', 'W')}`;
}

/** The radius that holds 95 % of where the place may be. */
export function radiusWords(uncertainty95M: number): string {
  const digits = uncertainty95M < 10 ? 1 : 0;
  return uncertainty95M < 0.1 ? 'within 0.1 m' : `within ${uncertainty95M.toFixed(digits)} m (95 % sure)`;
}
