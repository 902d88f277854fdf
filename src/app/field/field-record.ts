import type { Findings, MidpointFinding } from '../../findings';
import { layoutOf } from '../../ground/layout';
import type { NewReading } from '../../survey/edits';
import { HOOKUP_LABEL, type Hookup } from '../../survey/hookup';
import type { Line, Outing, Reading, Survey, Wetting } from '../../survey/survey';
import { toBaseUnit } from '../../survey/units';
import type { FieldPlan } from './field-plan';
import { isSameSpot, nextSpot, type Spot, spotsOf } from './round';
import { nextSeatingNumber, seatingName, seatingsFor } from './seatings';

/** A day's work on a line, ready to be gone on with. */
export interface FieldRecord {
  readonly plan: FieldPlan;
  readonly outing: Outing & Required<Pick<Outing, 'unit' | 'hookup'>>;
  readonly unit: NonNullable<Outing['unit']>;
  readonly hookup: Hookup;
  readonly line: Line;
  /** The last reading of this day on this line. */
  readonly last: Reading | null;
  /** The spot that comes up; null when all were read. */
  readonly next: Spot | null;
  readonly readCount: number;
  readonly spotCount: number;
}

/** Null where the outing or the line is gone, or the outing does not say its unit and hookup. */
export function fieldRecord(survey: Survey, plan: FieldPlan): FieldRecord | null {
  const outing = survey.outings.find(({ id, retired }) => id === plan.outing && !retired);
  const line = survey.lines.find(({ id, retired }) => id === plan.line && !retired);
  if (!outing?.unit || !outing.hookup || !line) return null;
  const { unit, hookup } = outing;
  const own = readingsOn(survey, line, hookup).filter((reading) => !plan.again || reading.outing === outing.id);
  const read = new Set(own.flatMap((reading) => (reading.status === 'rejected' ? [] : (keyOf(spotOf(reading)) ?? []))));
  const last = own.findLast((reading) => reading.outing === outing.id) ?? null;
  const isRead = (spot: Spot): boolean => read.has(keyOf(spot) ?? '');
  const spots = spotsOf(plan).filter((spot) => isWithin(plan, rodsAt({ hookup, plan }, spot)));
  return {
    plan,
    outing: { ...outing, unit, hookup },
    unit,
    hookup,
    line,
    last,
    next: nextSpot(spots, isRead, last && spotOf(last)),
    readCount: spots.filter(isRead).length,
    spotCount: spots.length,
  };
}

/** The readings of a line by this hookup, of all days. */
export const readingsOn = ({ readings }: Survey, line: Line, hookup: Hookup): readonly Reading[] =>
  readings.filter(
    (reading) =>
      reading.line === line.id && !reading.retired && (reading.hookup ?? line.hookup ?? 'unknown') === hookup,
  );

/** Where a reading was taken; null where it does not say. */
export function spotOf({ midpoint_m: stationM, spacing_m: spacingM }: Reading): Spot | null {
  return typeof stationM === 'number' && typeof spacingM === 'number' ? { stationM, spacingM } : null;
}

/** To the centimetre along the line and the millimetre of spacing, as `isSameSpot` has it. */
const keyOf = (spot: Spot | null): string | null =>
  spot && `${Math.round(spot.stationM * 100)}|${Math.round(spot.spacingM * 1000)}`;

/** What was found out about a reading; null while it is computed, and for one that came to no figure. */
export function findingOf(findings: Findings, { id, line }: Reading): MidpointFinding | null {
  const own = findings.lines.find(({ lineId }) => lineId === line)?.midpoints ?? [];
  return own.find(({ readings }) => readings.includes(id)) ?? null;
}

/** Chainages at which rods go in for a spot, growing; remotes are not among them. */
export function rodsAt({ hookup, plan }: Pick<FieldRecord, 'hookup' | 'plan'>, spot: Spot): readonly number[] {
  const { n, innerSpacingM } = plan;
  const layout = layoutOf({ hookup, midpointM: spot.stationM, spacingM: spot.spacingM, n, innerSpacingM });
  if (!layout.ok) return [];
  const { a, b, m, n: fourth } = layout.value;
  const chainages = [a, b, m, fourth].flatMap((chainage) => (chainage === null ? [] : [Number(chainage.toFixed(3))]));
  return [...new Set(chainages)].sort((p, q) => p - q);
}

const ROD_SLACK_M = 0.001;

const isWithin = ({ rodsFromM, rodsToM }: FieldPlan, rodsM: readonly number[]): boolean =>
  rodsM.every((rodM) => rodM >= (rodsFromM ?? -Infinity) - ROD_SLACK_M && rodM <= (rodsToM ?? Infinity) + ROD_SLACK_M);

/** What is said of one reading beside its spot. */
export interface FieldEntry {
  readonly spot: Spot;
  /** As the meter showed it; null = over range. */
  readonly value: number | null;
  /** Beside millivolts. */
  readonly currentMa?: number | null;
  /** Where the meter showed another unit than on the rest of the day. */
  readonly unit?: FieldRecord['unit'];
  /** Null = as on the whole day. */
  readonly wetting: Wetting | null;
  /** Numbers of rods that were driven again, from 1. */
  readonly reDriven: readonly number[];
  readonly drivenDepthM: number | null;
  /** The spacing that the meter was set to, where it differs. */
  readonly meterSpacingM: number | null;
  readonly note: string;
  readonly time: string;
}

/** The reading that an entry makes, with the seatings of its rods and its number among repeats. */
export function readingFrom(survey: Survey, record: FieldRecord, entry: FieldEntry): NewReading {
  const { outing, hookup, line, plan } = record;
  const unit = entry.unit ?? record.unit;
  const { spot, value, drivenDepthM, meterSpacingM, note } = entry;
  const today = survey.readings.filter((reading) => reading.outing === outing.id && !reading.retired);
  const before = today.at(-1);
  const stood = before ? spotOf(before) : null;
  const seated = before?.seatings && stood ? { rodsM: rodsAt(record, stood), seatings: before.seatings } : null;
  const first = nextSeatingNumber(
    outing.name,
    today.flatMap(({ seatings }) => seatings ?? []),
  );
  const moved = { reDriven: new Set(entry.reDriven), leapfrog: plan.leapfrog };
  const seatings = seatingsFor(rodsAt(record, spot), before?.line === line.id ? seated : null, moved, (ordinal) =>
    seatingName(outing.name, first + ordinal - 1),
  );
  const repeat = today.filter((reading) => {
    const other = reading.line === line.id ? spotOf(reading) : null;
    return other !== null && isSameSpot(other, spot);
  }).length;
  return {
    line: line.id,
    outing: outing.id,
    midpoint_m: spot.stationM,
    spacing_m: spot.spacingM,
    hookup,
    ...(plan.n === null ? {} : { n: plan.n }),
    ...(plan.innerSpacingM === null ? {} : { inner_spacing_m: plan.innerSpacingM }),
    value,
    unit,
    ...(unit === 'mV' && value !== null && entry.currentMa ? { current_ma: entry.currentMa } : {}),
    ...(meterSpacingM === null ? {} : { meter_spacing_m: meterSpacingM }),
    status: value === null ? 'over_range' : 'ok',
    ...(value === null ? { limit: limitIn(outing, unit) } : {}),
    wetting: entry.wetting ?? outing.wetting ?? 'none',
    ...(drivenDepthM === null ? {} : { driven_depth_m: drivenDepthM }),
    ...(seatings.length > 0 ? { seatings: [...seatings] } : {}),
    time: entry.time,
    ...(note.trim() === '' ? {} : { note: note.trim() }),
    ...(repeat > 0 ? { repeat } : {}),
  };
}

/** The upper limit of the day's meter in the unit of the reading; null where it is not known, or of another kind. */
export function limitIn({ meter }: Outing, unit: FieldRecord['unit']): number | null {
  const limit = meter?.upper_limit;
  if (typeof limit !== 'number') return null;
  const given = meter?.upper_limit_unit ?? unit;
  if (given === unit) return limit;
  const isResistivity = (each: typeof unit): boolean => each === 'ohm_m' || each === 'kohm_m';
  if (given === 'mV' || unit === 'mV' || isResistivity(given) !== isResistivity(unit)) return null;
  const base = toBaseUnit(limit, given);
  return base === null ? null : Number((base / (toBaseUnit(1, unit) ?? 1)).toPrecision(12));
}

/** "Line C, pole-pole". */
export const recordedWords = ({ line, hookup }: FieldRecord): string => `Line ${line.name}, ${HOOKUP_LABEL[hookup]}`;
