import { crsOf } from './crs';

/** Names of one datum under which its grids are listed. */
const ALIASES: Readonly<Record<string, string>> = { 'ETRS89-extended': 'ETRS89' };

/**
 * The datum of a system by its name in the register (`NAD83` of "NAD83 / UTM zone 15N"); local grids stand on WGS 84.
 * Null for a code that cannot be used.
 */
export function datumOf(code: string): string | null {
  if (code.startsWith('grid:')) return 'WGS 84';
  const crs = crsOf(code);
  if (!crs.ok) return null;
  const name = crs.value.name.split(' / ')[0] as string;
  return ALIASES[name] ?? name;
}
