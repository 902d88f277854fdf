import { type LonLat, localPlane } from '../../position/crs';
import { HOOKUPS } from '../../survey/hookup';
import { type Draft, type LineDraft, lineOf, type Source } from './draft';
import { absurd, MOST_ELECTRODES } from './limits';
import { COORDINATES, hasPlace, noteUnusedPair, readPlace, readPlaceDetails } from './place';
import type { Sheet, SheetRow } from './sheet';
import { readHookup, readRole } from './vocabulary';

/**
 * Reads a positions table into the draft: one row a placed point (`line, chainage_m` or `electrode` × `step_m`, and
 * coordinates or only a height), or one row a line (`first_*`, `last_*`, `step_m`).
 */
export function readPositions(sheet: Sheet, draft: Draft): void {
  const wide = hasPlace(sheet, 'first_') || hasPlace(sheet, 'last_');
  if (!hasColumns(sheet, wide)) return;
  noteUnusedPair(sheet);
  const highest = new Map<LineDraft, number>();
  for (const row of sheet.rows) {
    const troubles = sheet.notes.troubles;
    const name = sheet.required(row, 'line', 'the name of a line');
    const hookup = sheet.word(row, 'hookup', readHookup, HOOKUPS);
    if (name === null) continue;
    const line = lineOf(draft, name, { sheet, row });
    if (wide) {
      readEnds(sheet, row, line);
    } else {
      readPoint(sheet, row, line, highest);
    }
    readRemote(sheet, row, line);
    if (sheet.notes.troubles === troubles && hookup !== null) line.hookup = hookup;
  }
  planElectrodes(sheet, highest);
}

function hasColumns(sheet: Sheet, wide: boolean): boolean {
  const troubles = sheet.notes.troubles;
  if (!sheet.has('line')) sheet.missing('line', 'line');
  if (wide) {
    if (!hasPlace(sheet, 'first_')) sheet.missing('first_lon', 'first_lon and first_lat');
    if (!hasPlace(sheet, 'last_')) sheet.missing('last_lon', 'last_lon and last_lat');
    if (!sheet.has('step_m')) {
      sheet.missing(
        'step_m',
        'step_m, the distance between neighbouring electrodes (a column or a constant of the map)',
      );
    }
  } else {
    if (!sheet.has('chainage_m') && !sheet.has('electrode')) {
      sheet.missing('chainage_m', 'chainage_m (or electrode, with step_m)');
    }
    if (!sheet.has('chainage_m') && sheet.has('electrode') && !sheet.has('step_m')) {
      sheet.missing(
        'step_m',
        'step_m, the distance between neighbouring electrodes (a column or a constant of the map)',
      );
    }
    if (!hasPlace(sheet) && !sheet.has('elevation_m')) sheet.missing('lon', COORDINATES);
  }
  return sheet.notes.troubles === troubles;
}

function readPoint(sheet: Sheet, row: SheetRow, line: LineDraft, highest: Map<LineDraft, number>): void {
  const troubles = sheet.notes.troubles;
  const chainageM = readChainage(sheet, row, line, highest);
  const place = readPlace(sheet, row);
  const heightM = place === null ? sheet.number(row, 'elevation_m') : (place.position.elevation_m ?? null);
  if (sheet.notes.troubles > troubles || chainageM === null) return;
  if (place === null && heightM === null) {
    const blank = hasPlace(sheet) ? (sheet.has('lon') ? 'lon' : 'easting') : 'elevation_m';
    sheet.wrong(row, blank, '', hasPlace(sheet) ? 'a place: lon and lat, or easting and northing' : 'a height');
    return;
  }
  if (place) line.fixes.push({ chainageM, ...place, source: { sheet, row } });
  if (heightM !== null) line.profile.push({ chainage_m: chainageM, height_m: heightM });
}

function readChainage(sheet: Sheet, row: SheetRow, line: LineDraft, highest: Map<LineDraft, number>): number | null {
  const chainageM = sheet.number(row, 'chainage_m');
  if (chainageM !== null || !sheet.has('electrode')) {
    // A blank cell is a fault, a wrong one has been told already.
    if (chainageM === null) sheet.required(row, 'chainage_m', 'a chainage in metres');
    const electrodes = readCount(sheet, row, 'electrodes');
    const stepM = sheet.positive(row, 'step_m');
    if (electrodes !== null && stepM !== null) plan(sheet, row, line, electrodes, stepM);
    return chainageM;
  }
  const electrode = readCount(sheet, row, 'electrode');
  const stepM = sheet.positive(row, 'step_m');
  if (electrode === null) {
    sheet.required(row, 'electrode', 'the number of an electrode');
    return null;
  }
  if (stepM === null) {
    sheet.required(row, 'step_m', 'the distance between neighbouring electrodes in metres');
    return null;
  }
  highest.set(line, Math.max(electrode, highest.get(line) ?? 0));
  plan(sheet, row, line, readCount(sheet, row, 'electrodes') ?? highest.get(line) ?? electrode, stepM);
  return along(electrode, stepM);
}

/** Chainage of an electrode by its number, from 1 at chainage 0, without the binary dust of a product. */
function along(electrode: number, stepM: number): number {
  return Math.round((electrode - 1) * stepM * 1e9) / 1e9;
}

/** Plans the electrodes of a line; false with a fault when there would be absurdly many, or too far along. */
function plan(sheet: Sheet, row: SheetRow, line: LineDraft, electrodes: number, stepM: number): boolean {
  const toM = along(electrodes, stepM);
  const tooFar = absurd('chainage_m', toM);
  if (electrodes > MOST_ELECTRODES || tooFar !== null) {
    const field = (['electrodes', 'electrode', 'step_m'] as const).find((name) => sheet.text(row, name) !== null);
    const expected =
      electrodes > MOST_ELECTRODES
        ? `such that the line has ${MOST_ELECTRODES.toLocaleString('en-US')} electrodes at most, and not ${electrodes}`
        : `such that the last of ${electrodes} electrodes at ${stepM} m stands at ${tooFar}, and not at ${toM} m`;
    sheet.wrong(row, field ?? 'step_m', sheet.text(row, field ?? 'step_m') ?? '', expected);
    return false;
  }
  line.layout = { from_m: 0, to_m: toM, step_m: stepM };
  return true;
}

function readCount(sheet: Sheet, row: SheetRow, field: 'electrode' | 'electrodes'): number | null {
  const value = sheet.number(row, field);
  if (value === null || (Number.isInteger(value) && value >= 1)) return value;
  sheet.wrong(row, field, String(value), 'a whole number from 1');
  return null;
}

/** Says once a line that its planned electrodes end at the highest number in the table. */
function planElectrodes(sheet: Sheet, highest: ReadonlyMap<LineDraft, number>): void {
  if (sheet.has('electrodes')) return;
  for (const [line, electrodes] of highest) {
    sheet.notes.guessed(
      sheet.where(line.source.row, 'electrode'),
      `electrode ${electrodes} at most`,
      'electrodes, their number',
      `${sheet.file}: line ${line.name} was taken to have ${electrodes} electrodes, the highest number given. Add electrodes if there are more.`,
    );
  }
}

function readEnds(sheet: Sheet, row: SheetRow, line: LineDraft): void {
  const troubles = sheet.notes.troubles;
  // An elevation would be that of neither end.
  const { elevation_m: _, ...details } = readPlaceDetails(sheet, row);
  const first = readPlace(sheet, row, 'first_', details);
  const last = readPlace(sheet, row, 'last_', details);
  const stepM = sheet.positive(row, 'step_m');
  const electrodes = readCount(sheet, row, 'electrodes');
  if (sheet.notes.troubles > troubles) return;
  if (first === null || last === null) {
    const blank = first === null ? 'first_lon' : 'last_lon';
    sheet.wrong(row, blank, '', 'a place: the first and the last electrode are both needed');
    return;
  }
  if (stepM === null) {
    sheet.required(row, 'step_m', 'the distance between neighbouring electrodes in metres');
    return;
  }
  const count = electrodes ?? countThatFits(sheet, row, line.name, first.lonLat, last.lonLat, stepM);
  if (count < 2) {
    const where = electrodes === null ? 'step_m' : 'electrodes';
    sheet.wrong(row, where, String(electrodes ?? stepM), 'such that the line has two electrodes at least');
    return;
  }
  if (!plan(sheet, row, line, count, stepM)) return;
  const source: Source = { sheet, row };
  line.fixes.push({ chainageM: 0, ...first, source }, { chainageM: along(count, stepM), ...last, source });
}

function countThatFits(sheet: Sheet, row: SheetRow, name: string, first: LonLat, last: LonLat, stepM: number): number {
  const [x, y] = localPlane(first.lon, first.lat).toPlane(last.lon, last.lat);
  const lengthM = Math.hypot(x, y);
  const count = Math.round(lengthM / stepM) + 1;
  sheet.notes.guessed(
    sheet.where(row, 'electrodes'),
    `${lengthM.toFixed(1)} m between the ends`,
    'electrodes, their number',
    `${sheet.file}, row ${row.row}: line ${name} was taken to have ${count} electrodes, ${along(count, stepM)} m at ${stepM} m, since its ends lie ${lengthM.toFixed(1)} m apart. Add electrodes if it has more or fewer.`,
  );
  return count;
}

function readRemote(sheet: Sheet, row: SheetRow, line: LineDraft): void {
  if (!hasPlace(sheet, 'remote_')) return;
  const place = readPlace(sheet, row, 'remote_');
  const role = sheet.word(row, 'remote_role', readRole, ['A', 'B', 'M', 'N']) ?? 'B';
  if (place) line.remotes.push({ role, position: place.position, source: { sheet, row } });
}
