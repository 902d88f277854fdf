import { lineNamed, type TrueLine } from './lines';
import { layoutAt, onLine, type Remotes, rodContactOhm, trueResistance, twoProbeResistanceOhm } from './resistance';
import { CONTACT_SCATTER, normalFrom, READING_NOISE, TWO_PROBE_NOISE } from './truth';

export const SPACINGS_M = [1, 2, 3, 5, 8, 12] as const;
/** Every so many stations the whole ladder is read a second time. */
export const REPEAT_EVERY_M = 6;

export interface FieldDay {
  readonly outing: string;
  readonly seed: number;
  /** In the order in which they were read, the reference first. */
  readonly lines: readonly string[];
  readonly remotes: Remotes | null;
}

export const FIELD_DAYS: readonly FieldDay[] = [
  {
    outing: '2026-05-12',
    seed: 512,
    lines: ['R1', 'A', 'B'],
    remotes: { b: { eastM: 139, northM: 396 }, n: { eastM: -152, northM: -358 } },
  },
  {
    outing: '2026-05-13',
    seed: 513,
    lines: ['R1', 'C', 'D'],
    remotes: { b: { eastM: 97, northM: 383 }, n: { eastM: -128, northM: -408 } },
  },
  { outing: '2026-05-14', seed: 514, lines: ['R2', 'T', 'R3', 'E'], remotes: null },
];

export type FaultKind =
  | 'repeats_disagree'
  | 'over_range'
  | 'wetted'
  | 'meter_spacing_differs'
  | 'poor_contact'
  | 're_driven';

/** Planted faults. Of the disagreeing pair the second is this much too high. */
export const DISAGREEING = { line: 'C', midpointM: 24, spacingM: 3, factor: 1.35 } as const;
/** A pole-pole reading that ran over the meter's range on dry ground and read after a litre of water. */
export const DRY_PLACE = { line: 'A', midpointM: 29, spacingM: 3, limitOhmM: 19990 } as const;
/** A reading taken at 8 m with the meter still set to 5 m. */
export const WRONG_SETTING = { line: 'B', midpointM: 30, spacingM: 8, meterSpacingM: 5 } as const;
/** A two-probe rod among stones, its contact this many times too high; re-driven after a station. */
export const STONY_ROD = { line: 'T', pegM: 10, factor: 3.5, redrivenAfterM: 10 } as const;

export interface DemoReading {
  readonly line: TrueLine;
  readonly outing: string;
  readonly midpointM: number;
  readonly spacingM: number;
  /** 2πa·R with the spacing that the meter was set to, Ω·m; null = over range. */
  readonly shownOhmM: number | null;
  readonly meterSpacingM: number | null;
  readonly limitOhmM: number | null;
  readonly wetting: 'none' | 'water';
  readonly seatings: readonly [string, string] | null;
  /** Seconds after the start of the field day. */
  readonly atS: number;
  readonly note: string;
  readonly reference: boolean;
  readonly faults: readonly FaultKind[];
}

/** Stations of a line at a spacing: every metre at which all electrodes stand on the line, or those of a reference. */
export function stationsOf(line: TrueLine, spacingM: number): readonly number[] {
  const halfM = (line.hookup === 'wenner_alpha' ? 3 * spacingM : spacingM) / 2;
  const fits = (midpointM: number): boolean => midpointM >= halfM && midpointM <= line.lengthM - halfM;
  return (line.stations ?? Array.from({ length: line.lengthM + 1 }, (_, i) => i)).filter(fits);
}

const READING_S = 40;
const MOVE_S = 720;

function isAt(
  place: { line: string; midpointM: number; spacingM: number },
  line: string,
  mid: number,
  a: number,
): boolean {
  return place.line === line && place.midpointM === mid && place.spacingM === a;
}

/** All readings of a field day in the order in which they were taken. */
export function readingsOf(day: FieldDay): readonly DemoReading[] {
  const readings: DemoReading[] = [];
  let atS = 0;
  for (const [i, name] of day.lines.entries()) {
    const line = lineNamed(name);
    const normal = normalFrom(day.seed * 10 + i);
    const contacts = new Map<string, number>();
    const toldRedriven = new Set<string>();
    const contactOf = (seating: string): number => {
      const known = contacts.get(seating);
      if (known !== undefined) return known;
      const contact = rodContactOhm() * Math.exp(CONTACT_SCATTER * normal());
      contacts.set(seating, contact);
      return contact;
    };
    const seatingAt = (pegM: number, midpointM: number): string => {
      const redriven = name === STONY_ROD.line && pegM === STONY_ROD.pegM && midpointM > STONY_ROD.redrivenAfterM;
      return `${name}:${pegM.toFixed(1)}/${redriven ? 2 : 1}`;
    };
    const stony = `${STONY_ROD.line}:${STONY_ROD.pegM.toFixed(1)}`;

    const read = (midpointM: number, spacingM: number, again: boolean): void => {
      const layout = layoutAt(line, midpointM, spacingM);
      const common = { line, outing: day.outing, midpointM, spacingM, reference: line.stations !== null };
      const plain = {
        meterSpacingM: null,
        limitOhmM: null,
        wetting: 'none',
        seatings: null,
        note: '',
        faults: [],
      } as const;
      const factorM = 2 * Math.PI * spacingM;
      if (line.hookup === 'two_probe') {
        const [near, far] = onLine(layout) as [number, number];
        const seatings = [seatingAt(near, midpointM), seatingAt(far, midpointM)] as const;
        const pair = seatings.map((s) => contactOf(s) * (s === `${stony}/1` ? STONY_ROD.factor : 1)) as [
          number,
          number,
        ];
        const shownOhmM = factorM * twoProbeResistanceOhm(pair, spacingM) * Math.exp(TWO_PROBE_NOISE * normal());
        const poor = seatings.includes(`${stony}/1`);
        const redriven = seatings.includes(`${stony}/2`) && !toldRedriven.has(stony);
        if (redriven) toldRedriven.add(stony);
        readings.push({
          ...common,
          ...plain,
          shownOhmM,
          seatings,
          atS,
          note: redriven ? `rod at ${STONY_ROD.pegM} m pulled and driven anew beside a stone` : '',
          faults: poor ? ['poor_contact'] : redriven ? ['re_driven'] : [],
        });
        atS += READING_S;
        return;
      }
      const shownOhmM = factorM * trueResistance(line, layout, day.remotes).ohm * Math.exp(READING_NOISE * normal());
      if (isAt(DRY_PLACE, name, midpointM, spacingM) && !again) {
        const over = { shownOhmM: null, limitOhmM: DRY_PLACE.limitOhmM, faults: ['over_range'] } as const;
        readings.push({ ...common, ...plain, ...over, atS, note: 'display shows 1; gravel' });
        atS += 5 * READING_S;
        const wetted = { wetting: 'water', note: 'a litre of water at both rods', faults: ['wetted'] } as const;
        readings.push({ ...common, ...plain, ...wetted, shownOhmM, atS });
      } else if (isAt(WRONG_SETTING, name, midpointM, spacingM) && !again) {
        const { meterSpacingM } = WRONG_SETTING;
        readings.push({
          ...common,
          ...plain,
          shownOhmM: (shownOhmM * meterSpacingM) / spacingM,
          meterSpacingM,
          atS,
          note: 'dial found still at 5 m',
          faults: ['meter_spacing_differs'],
        });
      } else if (isAt(DISAGREEING, name, midpointM, spacingM) && again) {
        const first = readings.findLast((r) => r.line === line && r.midpointM === midpointM && r.spacingM === spacingM);
        const twice = (first?.shownOhmM ?? shownOhmM) * DISAGREEING.factor;
        readings.push({ ...common, ...plain, shownOhmM: twice, atS, faults: ['repeats_disagree'] });
      } else readings.push({ ...common, ...plain, shownOhmM, atS });
      atS += READING_S;
    };

    for (let midpointM = 0; midpointM <= line.lengthM; midpointM += 1) {
      const ladder = SPACINGS_M.filter((spacingM) => stationsOf(line, spacingM).includes(midpointM));
      for (const spacingM of ladder) read(midpointM, spacingM, false);
      const repeated = line.stations === null && midpointM > 0 && midpointM % REPEAT_EVERY_M === 0;
      if (repeated) for (const spacingM of ladder) read(midpointM, spacingM, true);
    }
    atS += MOVE_S;
  }
  return readings;
}
