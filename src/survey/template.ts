import { type LineId, makeId } from './ids';
import type { Line, Outing, Survey } from './survey';

export interface TemplateOptions {
  readonly name: string;
  /** Random, from the shell. */
  readonly seed: string;
  /** The lines lie where they lay, and the quiet place is the same: for the same ground read again. */
  readonly withPlaces: boolean;
}

const NEW = { at: null, by: null, count: 0 };

/**
 * A new survey set up like another: its lines with hookup and planned electrodes, its days' meters and rods, its rules. No
 * readings, features, photos, notes or settled doubts, and no dates, people, weather or remote electrodes.
 */
export function templateOf(survey: Survey, { name, seed, withPlaces }: TemplateOptions): Survey {
  const ids = new Map(survey.lines.map(({ id }) => [id, makeId('line', seed, id)]));
  const lines = survey.lines.filter(({ retired }) => !retired).map((line) => newLine(line, ids, seed, withPlaces));
  const known = new Set(lines.map(({ id }) => id));
  const to = (id: LineId): LineId => ids.get(id) ?? id;
  const references = withPlaces ? survey.references.filter(({ retired }) => !retired) : [];
  const { site } = survey;
  return {
    format: survey.format,
    version: survey.version,
    id: makeId('survey', seed, survey.id),
    site: {
      id: makeId('site', seed, site.id),
      revised: NEW,
      name,
      time_zone: site.time_zone ?? null,
      // Invented places stay invented; hookups and rods alone are not.
      ...(site.invented && withPlaces ? { invented: true } : {}),
      ...(site.settings ? { settings: site.settings } : {}),
      review_status: 'not reviewed by a licensed professional',
      setback_rules: site.setback_rules,
      discretion_classes: site.discretion_classes,
      column_mappings: site.column_mappings,
      local_grids: withPlaces ? site.local_grids : [],
    },
    outings: lastSetUp(survey).map((outing) => newOuting(outing, seed)),
    lines,
    readings: [],
    references: references.map((reference) => ({
      id: makeId('reference', seed, reference.id),
      revised: NEW,
      name: reference.name,
      stations: reference.stations
        .map((station) => ({ ...station, line: to(station.line) }))
        .filter(({ line }) => known.has(line)),
      ...(reference.serves ? { serves: reference.serves.map(to) } : {}),
    })),
    surroundings: [],
    features: [],
    photos: [],
    settlements: [],
  };
}

function newLine(line: Line, ids: ReadonlyMap<LineId, LineId>, seed: string, withPlaces: boolean): Line {
  const path = line.path.map((item) => ({
    ...item,
    id: makeId('path', seed, item.id),
    ...(item.kind === 'offset' ? { base_line: ids.get(item.base_line) ?? item.base_line } : {}),
  })) as Line['path'];
  return {
    id: ids.get(line.id) as LineId,
    revised: NEW,
    name: line.name,
    ...(line.hookup ? { hookup: line.hookup } : {}),
    ...(line.layout ? { layout: line.layout } : {}),
    path: withPlaces ? path : [],
    profile: withPlaces ? line.profile : [],
  };
}

/** The set-up of the last day: that is the meter in hand. */
function lastSetUp({ outings }: Survey): readonly Outing[] {
  let last: Outing | null = null;
  for (const outing of outings) {
    if (!outing.retired && (outing.date ?? '') >= (last?.date ?? '')) last = outing;
  }
  return last ? [last] : [];
}

function newOuting(outing: Outing, seed: string): Outing {
  const { meter, unit, hookup, wetting, rods, salt_water_allowed: saltWater } = outing;
  return {
    id: makeId('outing', seed, outing.id),
    revised: NEW,
    name: 'First day',
    people: [],
    ...(meter ? { meter: { ...meter, test_resistor_shown_ohm: null } } : {}),
    ...(unit ? { unit } : {}),
    ...(hookup ? { hookup } : {}),
    ...(wetting ? { wetting } : {}),
    ...(typeof saltWater === 'boolean' ? { salt_water_allowed: saltWater } : {}),
    rods,
    remotes: [],
  };
}
