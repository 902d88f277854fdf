import { HOOKUPS } from '../../survey/hookup';
import { READING_STATUS, WETTINGS } from '../../survey/survey';
import { READING_UNITS } from '../../survey/units';
import { type DictionaryTable, integer, type More, of, type Property, real, text } from './dictionary';

/*
 * What every column of every field table means. The tables take their columns from it, so a column that is not here cannot
 * be written there.
 */

const NOT_SAID: More = { nullMeans: 'not said' };

const LINE = text('line', 'Name of the survey line.');
const TIME = text('time', 'When it was measured, ISO 8601: a day, or a day with its clock time.', NOT_SAID);
const HOOKUP_MEANING = 'How the probes were wired.';

/** A place, as it was entered. `none`: what it says of a row that it gives no place in either way. */
function placeColumns(none: string): readonly Property[] {
  const degrees: More = { nullMeans: `given as easting and northing; or ${none}` };
  const projected: More = { nullMeans: `given as lon and lat; or ${none}` };
  return [
    of('text')('lon', 'deg', 'Longitude, WGS 84: decimal, or in the spelling in which it was entered.', degrees),
    of('text')('lat', 'deg', 'Latitude, in the same way.', degrees),
    real(
      'easting',
      'as epsg',
      'Easting in the system that epsg names; longitude where that system has degrees.',
      projected,
    ),
    real('northing', 'as epsg', 'Northing in the same system; latitude where that system has degrees.', projected),
    integer('epsg', 'code', 'EPSG code of that system.', projected),
  ];
}

/** Said of a place that the tables lose. */
const LOST = 'its grid is not explained in the survey';

/** What else is known of a place. */
const QUALITY: readonly Property[] = [
  real('elevation_m', 'm', 'Height of the ground, in the height system of the survey.', NOT_SAID),
  real('accuracy_m', 'm', 'Radius round the place that holds the true one, as whoever measured it said.', NOT_SAID),
  integer('accuracy_level', '%', 'How often that radius holds it.', {
    allowed: ['68', '95'],
    nullMeans: 'not said; taken for 68',
  }),
  text('source', 'By whom or what the place was measured.', NOT_SAID),
  text('device', 'Receiver that measured the place.', NOT_SAID),
];

export const POSITIONS: DictionaryTable = {
  name: 'positions.csv',
  meaning: 'Places and heights along the lines, one a row',
  columns: [
    LINE,
    real('chainage_m', 'm', 'Distance along the line, by its tape.'),
    ...placeColumns(`the row gives a height alone, or ${LOST}`),
    ...QUALITY,
    real('hdop', 'ratio', 'Horizontal dilution of precision that the receiver showed.', NOT_SAID),
    TIME,
    text('hookup', `${HOOKUP_MEANING} Holds for each reading of the line that does not say its own.`, {
      allowed: HOOKUPS,
      nullMeans: 'not said',
    }),
    real('step_m', 'm', 'From each planned electrode of the line to the next.', {
      nullMeans: 'none are planned, or not evenly from chainage 0',
    }),
    integer('electrodes', 'count', 'Planned electrodes of the line, the first at chainage 0.', {
      nullMeans: 'none are planned, or not evenly from chainage 0',
    }),
  ],
};

export const READINGS: DictionaryTable = {
  name: 'readings.csv',
  meaning: 'Readings as the meter showed them, one a row',
  columns: [
    LINE,
    real('midpoint_m', 'm', 'Middle of the layout, as distance along the line by its tape.', {
      nullMeans: 'given by its electrodes, or by a place of its own',
    }),
    real('spacing_m', 'm', 'Spacing a; half the distance AB of a Schlumberger reading.', {
      nullMeans: 'given by its electrodes, or not said',
    }),
    real('value', 'as unit', 'What the meter showed.', { nullMeans: 'over range, or rejected without a value' }),
    text('unit', 'Unit of value and limit.', { allowed: READING_UNITS }),
    text('hookup', HOOKUP_MEANING, { allowed: HOOKUPS, nullMeans: 'as positions.csv says of its line' }),
    real('current_ma', 'mA', 'Current that was sent; millivolts are divided by it.', NOT_SAID),
    real('meter_spacing_m', 'm', 'Spacing that the meter was set to.', { nullMeans: 'as spacing_m' }),
    text('status', 'Whether it counts. over_range: above what the meter can show. rejected: by a person.', {
      allowed: READING_STATUS,
    }),
    text('status_reason', 'Why it has that status.', NOT_SAID),
    real(
      'limit',
      'as unit',
      'Largest value that the meter shows: the true one of a reading over range is above it.',
      NOT_SAID,
    ),
    text('wetting', 'How the rods were wetted.', { allowed: WETTINGS, nullMeans: 'not said' }),
    ...['first', 'second'].map((which, i) =>
      text(`seating_${i + 1}`, `Name of the contact of the ${which} rod; a rod driven anew has a new one.`, NOT_SAID),
    ),
    real('driven_depth_m', 'm', 'How deep the rods were driven.', NOT_SAID),
    real('n_factor', 'ratio', 'Separation factor of a dipole-dipole or pole-dipole reading.', {
      nullMeans: 'the hookup has none, or not said and taken for 1',
    }),
    real('inner_spacing_m', 'm', 'Distance MN of a Schlumberger reading.', {
      nullMeans: 'the hookup has none, or not said and taken for a tenth of spacing_m',
    }),
    ...['a', 'b', 'm', 'n'].map((role) =>
      real(`${role}_m`, 'm', `Where electrode ${role.toUpperCase()} stood, as distance along the line by its tape.`, {
        nullMeans: 'remote; where all four are empty, given by midpoint_m, spacing_m and hookup',
      }),
    ),
    ...placeColumns(`placed by its chainages, or ${LOST}`),
    ...QUALITY,
    text('outing', 'Name of the day’s work that it belongs to.', NOT_SAID),
    TIME,
    text('note', 'Anything else.', { nullMeans: 'none' }),
    text('reference', 'Whether it was read at a station of the reference.', { allowed: ['yes'], nullMeans: 'no' }),
  ],
};

export const LEGS: DictionaryTable = {
  name: 'legs.csv',
  meaning: 'Legs by compass and tape, one a row',
  columns: [
    LINE,
    real('from_chainage_m', 'm', 'Where along the line the leg begins, by its tape.'),
    real('bearing_deg', 'deg', 'Direction in which it goes, clockwise from the north of bearing_ref.'),
    text('bearing_ref', 'North that the bearing counts from.', { allowed: ['true', 'magnetic', 'grid'] }),
    real('distance_m', 'm', 'Its length as taped, along the slope.'),
    real('slope_deg', 'deg', 'Its slope from the level, positive uphill.', { nullMeans: 'not said' }),
    text('time', 'When the bearing was read, ISO 8601; magnetic north depends on it.', NOT_SAID),
  ],
};

export const REMOTES: DictionaryTable = {
  name: 'remotes.csv',
  meaning: 'Electrodes far off the lines, one a row',
  columns: [
    text('outing', 'Name of the day’s work that used it.'),
    text('role', 'Which of the four electrodes stood there.', { allowed: ['A', 'B', 'M', 'N'] }),
    ...placeColumns(LOST),
    ...QUALITY,
    TIME,
  ],
};

/** Every table that there can be. */
export const DICTIONARY_TABLES: readonly DictionaryTable[] = [POSITIONS, READINGS, LEGS, REMOTES];
