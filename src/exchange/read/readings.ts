import { HOOKUPS, type Hookup } from '../../survey/hookup';
import { READING_STATUS, type Reading, WETTINGS } from '../../survey/survey';
import { quantityOf, READING_UNITS, type ReadingUnit } from '../../survey/units';
import { type Draft, type LineDraft, lineOf, outingOf } from './draft';
import type { Field } from './headers';
import { absurd } from './limits';
import { COORDINATES, hasPlace, noteUnusedPair, readPlace } from './place';
import { roundOff, type Sheet, type SheetRow, withSaid } from './sheet';
import { readHookup, readOverRange, readStatus, readUnit, readWetting, readYesNo } from './vocabulary';
import { readWhen } from './when';

const ELECTRODES = ['a', 'b', 'm', 'n'] as const;
type Letter = (typeof ELECTRODES)[number];
const chainageField = (letter: Letter): Field => `${letter}_m`;
const electrodeField = (letter: Letter): Field => `${letter}_electrode`;

/** How the table ties its readings to the ground. */
interface Ties {
  readonly electrodes: boolean;
  readonly place: boolean;
}

/**
 * Reads a readings table into the draft: one row a reading, tied to its line by midpoint and spacing, by the chainages of
 * its electrodes, or by a place of its own.
 * @param lineHookup the hookup that a line is already known to have, for rows that say none.
 */
export function readReadings(sheet: Sheet, draft: Draft, lineHookup: (line: string) => Hookup | null): void {
  const ties: Ties = {
    electrodes: ELECTRODES.some((letter) => sheet.has(chainageField(letter)) || sheet.has(electrodeField(letter))),
    place: hasPlace(sheet),
  };
  if (!hasColumns(sheet, ties)) return;
  noteUnusedPair(sheet);
  for (const row of sheet.rows) readRow(sheet, row, draft, ties, lineHookup);
}

function hasColumns(sheet: Sheet, ties: Ties): boolean {
  const troubles = sheet.notes.troubles;
  if (!sheet.has('line')) sheet.missing('line', 'line');
  if (!ties.electrodes && !ties.place) {
    if (!sheet.has('midpoint_m')) sheet.missing('midpoint_m', `midpoint_m (or a_m, b_m, m_m, n_m, or ${COORDINATES})`);
    if (!sheet.has('spacing_m')) sheet.missing('spacing_m', 'spacing_m');
  }
  if (!sheet.has('value')) sheet.missing('value', 'value');
  if (!sheet.has('unit') && sheet.readingUnit('value') === null) {
    sheet.missing('unit', `unit, a column or a constant of the map: one of ${READING_UNITS.join(', ')}`);
  }
  const byNumber = ELECTRODES.some((letter) => sheet.has(electrodeField(letter)));
  if (byNumber && !sheet.has('step_m')) sheet.missing('step_m', 'step_m, the distance between neighbouring electrodes');
  return sheet.notes.troubles === troubles;
}

function readRow(
  sheet: Sheet,
  row: SheetRow,
  draft: Draft,
  ties: Ties,
  lineHookup: (line: string) => Hookup | null,
): void {
  const { notes } = sheet;
  const troubles = notes.troubles;
  const name = sheet.required(row, 'line', 'the name of a line');
  const place = ties.place ? readPlace(sheet, row) : null;
  const electrodes = ties.electrodes ? readElectrodes(sheet, row) : null;
  const midpointM = sheet.number(row, 'midpoint_m');
  const spacingM = sheet.positive(row, 'spacing_m');
  const shown = readShown(sheet, row);
  const details = readDetails(sheet, row);
  const hookup = sheet.word(row, 'hookup', readHookup, HOOKUPS);
  const time = readWhen(sheet, row);
  const isReference = sheet.word(row, 'reference', readYesNo, ['yes', 'no']) ?? false;
  if (electrodes !== null) checkSharedRods(sheet, row, electrodes, hookup);
  if (notes.troubles > troubles || name === null || shown === null) return;

  if (place === null && electrodes === null) {
    if (midpointM === null) {
      sheet.required(row, ties.place && !sheet.has('midpoint_m') ? 'lon' : 'midpoint_m', 'a place along the line');
    }
    if (spacingM === null) sheet.required(row, 'spacing_m', 'a spacing in metres');
    if (notes.troubles > troubles) return;
  } else if (spacingM === null && electrodes === null) {
    notes.guessedOnce(
      'no spacing',
      sheet.where(row, 'spacing_m'),
      '',
      'spacing_m',
      `${sheet.file} has readings without a spacing. They are mapped and compared, without a depth.`,
    );
  }

  const line = lineOf(draft, name, { sheet, row });
  if (place) line.ownPlaces.push({ lonLat: place.lonLat, source: { sheet, row } });
  else line.chainageReadings += 1;
  const outing = sheet.text(row, 'outing');
  if (outing !== null) outingOf(draft, outing);
  const tie = withSaid(
    { midpoint_m: midpointM, spacing_m: spacingM },
    { electrodes, position: place?.position ?? null, hookup: hookup ?? unsaidHookup(sheet, line, lineHookup) },
  );
  const { value, unit, status, limit, statusSaid } = shown;
  const values = withSaid(Object.assign(tie, { value, unit, status }), { limit, ...details, time });
  draft.readings.push({ line: name, outing, statusSaid, values });
  if (isReference) addReference(sheet, row, draft, name, midpointM, electrodes);
}

type Electrodes = NonNullable<Reading['electrodes']>;

/** Chainages of the four electrodes; a blank one is remote. Null when the row names none of them. */
function readElectrodes(sheet: Sheet, row: SheetRow): Electrodes | null {
  const troubles = sheet.notes.troubles;
  const [a = null, b = null, m = null, n = null] = ELECTRODES.map((letter) => {
    const chainageM = sheet.number(row, chainageField(letter));
    if (chainageM !== null || !sheet.has(electrodeField(letter))) return chainageM;
    const number = sheet.number(row, electrodeField(letter));
    const stepM = sheet.positive(row, 'step_m');
    if (number === null || stepM === null) return null;
    const alongM = roundOff((number - 1) * stepM);
    const expected = absurd(chainageField(letter), alongM);
    if (expected === null) return alongM;
    sheet.wrong(
      row,
      electrodeField(letter),
      String(number),
      `${expected} when multiplied by step_m, and not ${alongM} m`,
    );
    return null;
  });
  const given = [a, b, m, n].filter((chainage) => chainage !== null);
  if (given.length === 0 || sheet.notes.troubles > troubles) return null;
  const distinct = new Set(given).size;
  if (given.length === 1 || (distinct < given.length && !isTwoProbe(a, b, m, n))) {
    const first = ELECTRODES.find((letter) => sheet.text(row, chainageField(letter)) !== null);
    const field = first ? chainageField(first) : 'a_electrode';
    const expected =
      'chainages of two electrodes on the line at least, all different (or A and B on the same two rods as M and N)';
    sheet.wrong(row, field, given.join(', '), expected);
  }
  return { a_m: a, b_m: b, m_m: m, n_m: n };
}

/** Rods that carry both current and potential are a two-probe reading, and no other. */
function checkSharedRods(sheet: Sheet, row: SheetRow, electrodes: Electrodes, hookup: Hookup | null): void {
  if (hookup === null || hookup === 'two_probe' || hookup === 'unknown') return;
  const { a_m: a, b_m: b, m_m: m, n_m: n } = electrodes;
  if (!isTwoProbe(a, b, m, n)) return;
  sheet.wrong(row, 'hookup', hookup, 'two_probe, since current and potential are on the same two rods');
}

/** Current and potential on the same two rods, whichever way round. */
function isTwoProbe(a: number | null, b: number | null, m: number | null, n: number | null): boolean {
  if (a === null || b === null || a === b) return false;
  return (a === m && b === n) || (a === n && b === m);
}

interface Shown {
  readonly value: number | null;
  readonly unit: ReadingUnit;
  readonly status: Reading['status'];
  readonly statusSaid: boolean;
  readonly limit: number | null;
}

/** The value as the meter showed it, with its unit and state; null with a fault when it cannot be understood. */
function readShown(sheet: Sheet, row: SheetRow): Shown | null {
  const troubles = sheet.notes.troubles;
  const unit = readValueUnit(sheet, row);
  const status = sheet.word(row, 'status', readStatus, READING_STATUS);
  const text = sheet.text(row, 'value');
  const over = text === null ? null : readOverRange(text);
  let limit = readLimit(sheet, row, unit);
  let value: number | null = null;
  if (over) {
    if (status === 'ok') sheet.wrong(row, 'status', 'ok', 'over_range, as the value says');
    if (over.limit !== null) {
      const beyond = sheet.parse(over.limit);
      if (beyond === null) sheet.wrong(row, 'value', text ?? '', 'a number, or > and the limit of the meter');
      else limit = beyond;
    }
  } else {
    value = sheet.number(row, 'value');
    if (value !== null && status === 'over_range') {
      // A number beside "over range" is where the meter's scale ends, never the ground's resistance.
      if (limit !== null && limit !== value) {
        sheet.wrong(row, 'value', text ?? '', 'blank for a reading that is over range, or the same as its limit');
      }
      sheet.notes.guessedOnce(
        'value of over range',
        sheet.where(row, 'value'),
        text ?? '',
        'blank',
        `${sheet.file}: the values of readings that are over range were taken for the limit of the meter.`,
      );
      limit = value;
      value = null;
    }
  }
  const known = status ?? (over ? 'over_range' : 'ok');
  if (text === null && known === 'ok') sheet.required(row, 'value', 'a number, or over range');
  if (unit === null || sheet.notes.troubles > troubles) return null;
  return { value, unit, status: known, statusSaid: status !== null || over !== null, limit };
}

/** The limit in the unit of its reading, whatever unit its own header names. */
function readLimit(sheet: Sheet, row: SheetRow, unit: ReadingUnit | null): number | null {
  const limit = sheet.number(row, 'limit');
  const own = sheet.readingUnit('limit');
  if (limit === null || own === null || unit === null || own === unit) return limit;
  if (own !== 'mV' && unit !== 'mV' && quantityOf(own) === quantityOf(unit)) {
    return roundOff(limit * (isThousands(own) ? 1000 : 1) * (isThousands(unit) ? 0.001 : 1));
  }
  sheet.wrong(row, 'limit', sheet.text(row, 'limit') ?? '', `in the unit of the reading, ${unit}, and not in ${own}`);
  return null;
}

const isThousands = (unit: ReadingUnit): boolean => unit === 'kohm' || unit === 'kohm_m';

function readValueUnit(sheet: Sheet, row: SheetRow): ReadingUnit | null {
  const troubles = sheet.notes.troubles;
  const ofCell = sheet.word(row, 'unit', readUnit, READING_UNITS);
  const ofHeader = sheet.readingUnit('value');
  if (sheet.notes.troubles > troubles) return null;
  if (ofCell !== null && ofHeader !== null && ofCell !== ofHeader) {
    sheet.wrong(row, 'unit', ofCell, `${ofHeader}, as the header "${sheet.where(row, 'value').column}" says`);
    return null;
  }
  const unit = ofCell ?? ofHeader;
  if (unit === null) {
    sheet.required(row, 'unit', `one of ${READING_UNITS.join(', ')}`);
    return null;
  }
  const current = sheet.text(row, 'current_ma');
  if (unit === 'mV' && current === null) {
    sheet.wrong(row, 'current_ma', '', 'the current in mA, without which millivolts give no resistance');
  }
  return unit;
}

/** The optional cells of a reading, those that are blank left out. */
function readDetails(sheet: Sheet, row: SheetRow): Partial<Reading> {
  const currentMa = sheet.number(row, 'current_ma');
  if (currentMa === 0) sheet.wrong(row, 'current_ma', '0', 'a current other than 0');
  const drivenM = sheet.number(row, 'driven_depth_m');
  if (drivenM !== null && drivenM < 0) sheet.wrong(row, 'driven_depth_m', String(drivenM), 'a depth of 0 or more');
  const seatings = [sheet.text(row, 'seating_1'), sheet.text(row, 'seating_2')];
  const said = {
    n: sheet.positive(row, 'n'),
    inner_spacing_m: sheet.positive(row, 'inner_spacing_m'),
    meter_spacing_m: sheet.positive(row, 'meter_spacing_m'),
    current_ma: currentMa,
    driven_depth_m: drivenM,
    wetting: sheet.word(row, 'wetting', readWetting, WETTINGS),
    seatings: seatings.some((seating) => seating !== null) ? seatings : null,
    status_reason: sheet.text(row, 'status_reason'),
    note: sheet.text(row, 'note'),
  };
  return withSaid<Partial<Reading>>({}, said);
}

/** The hookup of a reading that says none: that of its line, for which nothing is put down, or one not known. */
function unsaidHookup(sheet: Sheet, line: LineDraft, lineHookup: (line: string) => Hookup | null): Hookup | null {
  if ((line.hookup ?? lineHookup(line.name)) !== null) return null;
  sheet.notes.guessedOnce(
    'no hookup',
    sheet.where(null, 'hookup'),
    '',
    'hookup',
    `${sheet.file}: the hookup is not said, so the readings are treated as two-probe. Add a hookup column or constant: how many rods are in the ground, and where do the other leads go? One of ${HOOKUPS.join(', ')}.`,
  );
  return 'unknown';
}

function addReference(
  sheet: Sheet,
  row: SheetRow,
  draft: Draft,
  line: string,
  midpointM: number | null,
  electrodes: Electrodes | null,
): void {
  const placed = electrodes ? Object.values(electrodes).filter((chainage) => typeof chainage === 'number') : [];
  const chainageM = midpointM ?? (placed.length > 0 ? (Math.min(...placed) + Math.max(...placed)) / 2 : null);
  if (chainageM === null) {
    sheet.notes.skippedOnce(
      'reference without chainage',
      sheet.where(row, 'reference'),
      'yes',
      'midpoint_m',
      `${sheet.file}: reference readings without a midpoint along a line cannot be named as stations and were read as plain readings.`,
    );
    return;
  }
  // By base name: a folder that has been moved is still the same reference.
  const file = sheet.file.toLowerCase();
  const stations = draft.references.get(file) ?? new Map();
  draft.references.set(file, stations);
  stations.set(`${line}\u0000${chainageM}`, { line, chainageM });
}
