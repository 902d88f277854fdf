/*
 * Places that stand a second time in a text: "54°44′14″ N, 56°01′01″ E", also with the letters of Russian tables, and
 * the packed form of gazetteers, "381259N". They are read piece by piece and not as one angle, so that minutes and
 * seconds that cannot be are told and not carried over.
 */

/** An angle as written, with what is impossible about it. */
export interface SaidAngle {
  readonly text: string;
  readonly axis: 'lat' | 'lon' | null;
  /** Degrees with sign; minutes of 60 and more are carried over here, and named below. */
  readonly deg: number;
  /** Half of its last written unit, degrees. */
  readonly roundingDeg: number;
  /** What no angle has: "75 minutes", "latitude 555". */
  readonly impossible: string | null;
}

export interface SaidPlace {
  readonly text: string;
  readonly lat: SaidAngle;
  readonly lon: SaidAngle;
}

const LETTERS: Readonly<Record<string, readonly ['lat' | 'lon', 1 | -1]>> = {
  N: ['lat', 1],
  S: ['lat', -1],
  E: ['lon', 1],
  W: ['lon', -1],
  СШ: ['lat', 1],
  ЮШ: ['lat', -1],
  ВД: ['lon', 1],
  ЗД: ['lon', -1],
};
const LETTER = String.raw`(?:[NSEW](?![\p{L}])|[СЮ]\.?\s?Ш|[ВЗ]\.?\s?Д)`;
const NUMBER = String.raw`\d{1,4}(?:[.,]\d{1,10})?`;
// Seconds may lack their sign, as copied tables often do, when a letter or a comma follows.
const ANGLE = new RegExp(
  String.raw`(\d{1,4}(?:[.,]\d{1,10})?)\s?[°º˚]\s?(?:(${NUMBER})\s?(?:['′’‘´](?!['′’‘´])|(?=["″”“]))\s?(?:(${NUMBER})\s?(?:["″”“]|['′’‘´]{2})?)?)?["″”“]?\s?(${LETTER})?`,
  'giu',
);
const PACKED = /^(\d{2,3})(\d{2})(\d{2}(?:\.\d+)?)([NSEW])$/i;
/** Descriptions are searched no farther than this. */
const LONGEST = 20_000;

const numberOf = (text: string): number => Number(text.replace(',', '.'));
const decimalsOf = (text: string): number => /[.,](\d+)$/.exec(text)?.[1]?.length ?? 0;

function angleOf(
  text: string,
  d: string,
  m: string | undefined,
  s: string | undefined,
  letter: string | undefined,
): SaidAngle {
  const [axis, sign] = LETTERS[(letter ?? '').toUpperCase().replace(/[.\s]/g, '')] ?? [null, 1 as const];
  const [degrees, minutes, seconds] = [
    numberOf(d),
    m === undefined ? 0 : numberOf(m),
    s === undefined ? 0 : numberOf(s),
  ];
  const last = s !== undefined ? [s, 3600] : m !== undefined ? [m, 60] : [d, 1];
  const roundingDeg = 0.5 / 10 ** decimalsOf(last[0] as string) / (last[1] as number);
  const most = axis === 'lat' ? 90 : 180;
  const impossible =
    degrees > most
      ? `${d} degrees`
      : minutes >= 60
        ? `${m} minutes`
        : seconds >= 60
          ? `${s} seconds`
          : degrees + minutes / 60 + seconds / 3600 > most
            ? `${text.trim()}, beyond ${most}°`
            : null;
  return { text: text.trim(), axis, deg: sign * (degrees + minutes / 60 + seconds / 3600), roundingDeg, impossible };
}

/** An angle in one cell: packed, or with its signs; null for anything else, such as plain decimals. */
export function saidAngle(text: string): SaidAngle | null {
  const trimmed = text.trim();
  const packed = PACKED.exec(trimmed);
  if (packed) return angleOf(trimmed, packed[1] as string, packed[2], packed[3], packed[4]);
  const found = [...trimmed.slice(0, 200).matchAll(ANGLE)];
  const [only] = found;
  return only && found.length === 1 ? angleOf(only[0], only[1] as string, only[2], only[3], only[4]) : null;
}

/** The first place that a text names in degrees, minutes and seconds; null without one. */
export function saidPlace(text: string): SaidPlace | null {
  const found = [...text.slice(0, LONGEST).matchAll(ANGLE)].map((match) => ({
    angle: angleOf(match[0], match[1] as string, match[2], match[3], match[4]),
    from: match.index,
    to: match.index + match[0].length,
  }));
  for (let i = 1; i < found.length; i += 1) {
    const [first, second] = [found[i - 1] as (typeof found)[number], found[i] as (typeof found)[number]];
    // An azimuth in the text has no letter; a place has two, one of each.
    if (second.from - first.to > 6) continue;
    const axes = [first.angle.axis, second.angle.axis];
    if (axes.includes('lat') && axes.includes('lon')) {
      const [lat, lon] = axes[0] === 'lat' ? [first.angle, second.angle] : [second.angle, first.angle];
      return { text: text.slice(first.from, second.to), lat, lon };
    }
  }
  return null;
}
