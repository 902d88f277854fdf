/**
 * How colours look to eyes without one kind of cone: Machado, Oliveira and Fernandes 2009, severity 1.0,
 * doi:10.1109/TVCG.2009.113. Differences are Euclidean in CIE L*a*b* (CIE 15, D65), about 2 = just seen side by side.
 */
export const COLOUR_VISIONS = ['full colour', 'protanopia', 'deuteranopia', 'tritanopia'] as const;
export type ColourVision = (typeof COLOUR_VISIONS)[number];

type Triple = readonly [number, number, number];

const MATRIX: Record<ColourVision, readonly [Triple, Triple, Triple]> = {
  'full colour': [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

function linearRgb(hex: string): Triple {
  const channel = (at: number) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}

const times = ([a, b, c]: Triple, [x, y, z]: Triple): number => a * x + b * y + c * z;
const clamp = (value: number): number => Math.min(1, Math.max(0, value));

function lab(rgb: Triple): Triple {
  const x = times([0.4124, 0.3576, 0.1805], rgb) / 0.95047;
  const y = times([0.2126, 0.7152, 0.0722], rgb);
  const z = times([0.0193, 0.1192, 0.9505], rgb) / 1.08883;
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : (841 / 108) * t + 4 / 29);
  return [116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))];
}

/** L*a*b* of a colour as these eyes see it. */
export function seenBy(vision: ColourVision, hex: string): Triple {
  const rgb = linearRgb(hex);
  const [r, g, b] = MATRIX[vision];
  return lab([clamp(times(r, rgb)), clamp(times(g, rgb)), clamp(times(b, rgb))]);
}

export function colourDifference(a: Triple, b: Triple): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

export function lightness(hex: string): number {
  return lab(linearRgb(hex))[0];
}
