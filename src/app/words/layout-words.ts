import type { ControlFinding, LineFindings } from '../../findings';
import type { PathItem } from '../../survey/survey';
import { metres, significant } from '../../survey/wording';

/** How a point of a line came to its place. `lineName` tells the name of another line. */
export function placedWords(item: PathItem, lineName: (id: string) => string): string {
  switch (item.kind) {
    case 'fix': {
      const { source } = item.position;
      const singles = item.singles?.length ?? 0;
      if (source === 'phone') return singles > 1 ? `GPS, ${singles} fixes` : 'GPS, one fix';
      if (source === 'map') return 'set on the map';
      if (source === 'typed') return 'by coordinates';
      return source ?? 'placed';
    }
    case 'leg':
      return `${degreesWords(item.bearing_deg)} ${NORTH_WORDS[item.bearing_reference]}, ${metres(item.distance_m)} from ${metres(item.from_chainage_m)}`;
    case 'two_tapes':
      return `two tapes, ${metres(item.first_distance_m)} and ${metres(item.second_distance_m)}, ${item.side} side`;
    case 'offset': {
      const side = item.offset_right_m < 0 ? 'left' : 'right';
      return `${metres(Math.abs(item.offset_right_m))} ${side} of ${lineName(item.base_line)} at ${metres(item.base_chainage_m)}`;
    }
    case 'bearing':
      return `centre and bearing ${degreesWords(item.bearing_deg)} ${NORTH_WORDS[item.bearing_reference]}`;
  }
}

export const NORTH_WORDS = { magnetic: 'by compass', true: 'from true north', grid: 'from grid north' } as const;

const degreesWords = (deg: number): string => `${Number(deg.toFixed(1))}°`;

/** How far a point is off from what the others say of it, piece by piece: "0.8 m", "1.2 σ". */
export function residualWords({ residualM, residualSigma, gross }: ControlFinding): readonly string[] {
  if (residualM === null) return ['nothing to compare'];
  const words = [lengthWords(residualM)];
  if (residualSigma !== null) words.push(`${residualSigma.toFixed(1)} σ`);
  return gross ? [...words, 'contradicts the others'] : words;
}

/** Metres with the digits that a field measurement is worth. */
export const lengthWords = (m: number): string => `${m < 10 ? m.toFixed(1) : significant(m, 3)} m`;

/** "± 2.1 to 3.4 m": how unsure the places of a line are. */
export function unsureWords(radii: readonly number[]): string {
  if (radii.length === 0) return '';
  const [least, most] = [Math.min(...radii), Math.max(...radii)];
  const [from, to] = [lengthWords(least), lengthWords(most)];
  return from === to ? `± ${to}` : `± ${from.replace(' m', '')} to ${to}`;
}

/** What the fixes make of a metre of tape; null where they say nothing of it. */
export function tapeWords({ tapeGpsScale, tapeGpsScaleError95 }: LineFindings): string | null {
  if (tapeGpsScale === null) return null;
  const percent = (tapeGpsScale - 1) * 100;
  const error = (tapeGpsScaleError95 ?? 0) * 100;
  const agree = Math.abs(percent) <= error;
  const sign = percent < 0 ? '−' : '+';
  const off = `${sign}${Math.abs(percent).toFixed(1)}\u00a0% ± ${error.toFixed(1)}\u00a0%`;
  return agree ? `agree (${off})` : `differ by ${off}`;
}
