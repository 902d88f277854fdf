/**
 * Worked traverses of J. Mahun's open surveying text (jerrymahun.com, Open Access, Traverse Computations, chapters H and
 * I, and the solutions to problems 1 and 2 of "Traverse Adjustment"), seen in a stored copy of its pages. Feet there,
 * taken for metres here; latitude is north, departure is east. Bearings as degrees, minutes, seconds of azimuth.
 */
export interface WorkedTraverse {
  readonly what: string;
  readonly legs: readonly {
    readonly azimuth: readonly [deg: number, min: number, sec: number];
    readonly length: number;
    readonly latitude: number;
    readonly departure: number;
    readonly adjustedLatitude: number | null;
    readonly adjustedDeparture: number | null;
  }[];
  /** Where the end is known to be, from the start: north, east. */
  readonly end: readonly [north: number, east: number];
  readonly misclosure: readonly [north: number, east: number];
  readonly length: number;
  readonly ratio: number | null;
}

const leg = (
  azimuth: readonly [number, number, number],
  length: number,
  latitude: number,
  departure: number,
  adjustedLatitude: number | null = null,
  adjustedDeparture: number | null = null,
) => ({ azimuth, length, latitude, departure, adjustedLatitude, adjustedDeparture });

export const TRAVERSES: readonly WorkedTraverse[] = [
  {
    what: 'loop of four bearings (chapter I, figure I-5)',
    legs: [
      leg([248, 5, 35], 472.68, -176.357, -438.548),
      leg([340, 14, 0], 216.13, 203.395, -73.093),
      leg([45, 55, 20], 276.52, 192.357, 198.651),
      leg([125, 0, 45], 382.24, -219.312, 313.065),
    ],
    end: [0, 0],
    misclosure: [0.083, 0.075],
    length: 1347.57,
    ratio: null,
  },
  {
    what: 'loop of problem 1',
    legs: [
      leg([144, 0, 0], 379.25, -306.82, 222.918, -306.862, 222.954),
      leg([255, 23, 18], 408.9, -103.152, -395.675, -103.197, -395.637),
      leg([345, 16, 31], 298.65, 288.842, -75.909, 288.809, -75.881),
      leg([63, 59, 20], 276.55, 121.28, 248.538, 121.25, 248.564),
    ],
    end: [0, 0],
    misclosure: [0.15, -0.128],
    length: 1363.35,
    ratio: null,
  },
  {
    what: 'loop of problem 2',
    legs: [
      leg([226, 54, 23], 639.15, -436.662, -466.732, -436.631, -466.761),
      leg([0, 0, 0], 523.69, 523.69, 0, 523.715, -0.023),
      leg([235, 2, 29], 409.54, -234.66, -335.645, -234.64, -335.663),
      leg([79, 35, 2], 815.93, 147.517, 802.484, 147.556, 802.447),
    ],
    end: [0, 0],
    misclosure: [-0.115, 0.107],
    length: 2388.31,
    ratio: 15200,
  },
  {
    // From Q 2600.480 N 1391.670 E; the adjusted columns of the text add up to 113.301 N 336.141 E.
    what: 'link between two known points (chapter H, figure H-14)',
    legs: [
      leg([123, 36, 22], 398.75, -220.7, 332.104, -220.715, 332.124),
      leg([255, 17, 42], 422.89, -107.347, -409.038, -107.363, -409.017),
      leg([43, 5, 47], 604.49, 441.402, 413.004, 441.379, 413.034),
    ],
    end: [113.301, 336.141],
    misclosure: [0.054, -0.071],
    length: 1426.13,
    ratio: null,
  },
];
