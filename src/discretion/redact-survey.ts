import { type FeatureId, type LineId, makeId } from '../survey/ids';
import type { Feature, Outing, PathItem, Position, Revised, Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import type { Cuts } from './cuts';
import { withKnownKeys } from './known-keys';
import type { Protected } from './protected';
import { lonLatPosition, withoutGrids } from './without-grids';

/** The record as an audience may see it. Entities that are cut are not there, whatever else names them. */
export function redactSurvey(survey: Survey, audience: Audience, hidden: readonly Protected[], cuts: Cuts): Survey {
  const byId = new Map<FeatureId, Protected>(hidden.map((each) => [each.feature.id, each]));
  const outside = isOutside(audience);
  // What nobody here knows how to read nobody can have checked.
  const known = outside || hidden.length > 0 ? withKnownKeys(survey) : survey;
  const standing = outside ? withoutRetired(known) : known;
  const base = outside || cuts.grids ? withoutGrids(standing) : standing;
  const seesLine = (line: LineId): boolean => !cuts.lines.has(line);
  const inCells = new Map<string, number>();
  const features = base.features.flatMap((feature): Feature[] => {
    const own = byId.get(feature.id);
    if (!own) return [outside ? outsideFeature(feature) : withoutLinks(feature, byId)];
    if (!own.cell) return [];
    const { row, column, gridM } = own.cell;
    const key = `${feature.type}|${gridM}|${row}|${column}`;
    const ordinal = inCells.get(key) ?? 0;
    inCells.set(key, ordinal + 1);
    return [generalised(feature, own, makeId('feature', 'generalised', `${key}|${ordinal}`))];
  });
  const { shares: _shares, ...site } = base.site as Survey['site'] & { readonly shares?: unknown };
  return {
    ...base,
    site: {
      ...site,
      name: cuts.texts.has('site.name') ? 'A site' : site.name,
      discretion_classes: [],
      column_mappings: [],
      ...(outside ? { revised: unsigned(site.revised) } : {}),
      ...(outside || cuts.texts.has('site.notes') ? { notes: null } : {}),
      // A rule is law or custom and shows no place; what it cites is the user's own word.
      setback_rules: base.site.setback_rules,
    },
    outings: base.outings.map((outing, i) => redactOuting(outing, i, outside, cuts)),
    lines: base.lines
      .filter(({ id }) => seesLine(id))
      .map((line, i) => ({
        ...line,
        ...(outside ? { revised: unsigned(line.revised) } : {}),
        name: cuts.texts.has(`line:${line.id}`) ? `Line ${i + 1}` : line.name,
        path: line.path
          .filter((item) => item.kind !== 'offset' || seesLine(item.base_line))
          .map((item) => (outside ? outsideItem(item) : item)),
      })),
    readings: base.readings
      .filter(({ line }) => seesLine(line))
      .map((reading) => {
        const noteless = outside || cuts.texts.has(`reading:${reading.id}`) ? { note: null, status_reason: null } : {};
        return outside
          ? {
              ...reading,
              ...noteless,
              revised: unsigned(reading.revised),
              time: reading.time?.slice(0, 10) ?? null,
              ...(reading.position ? { position: untold(reading.position) } : {}),
            }
          : { ...reading, ...noteless };
      }),
    references: base.references
      .map((reference, i) => ({
        ...reference,
        ...(outside ? { revised: unsigned(reference.revised) } : {}),
        name: cuts.texts.has(`reference:${reference.id}`) ? `Reference ${i + 1}` : reference.name,
        stations: reference.stations.filter(({ line }) => seesLine(line)),
        ...(reference.serves ? { serves: reference.serves.filter(seesLine) } : {}),
      }))
      .filter(({ stations }) => stations.length > 0),
    surroundings: base.surroundings
      .filter(({ id, kind }) => !cuts.surroundings.has(id) && !(outside && kind === 'opening'))
      .map((each) =>
        outside
          ? {
              ...{ ...each, revised: unsigned(each.revised), positions: each.positions.map(untold) },
              ...{ name: null, note: null },
            }
          : cuts.texts.has(`surrounding:${each.id}`)
            ? { ...each, name: null, note: null }
            : each,
      ),
    features,
    // A picture shows what it shows; who gets it gets it from the keeper.
    photos: outside
      ? []
      : base.photos.filter(({ id, subject }) => !cuts.texts.has(`photo:${id}`) && !namesAny(subject, byId)),
    settlements: outside ? [] : base.settlements.filter(({ id }) => !cuts.texts.has(`settlement:${id}`)),
  };
}

/** Whether a picture is of a hidden feature. */
const namesAny = (subject: string, hidden: ReadonlyMap<FeatureId, Protected>): boolean =>
  [...hidden.keys()].some((id) => subject.includes(id));

const unsigned = ({ count }: Revised): Revised => ({ at: null, by: null, count });

/** What was taken out of the survey is nobody's business but the keepers'. */
function withoutRetired(survey: Survey): Survey {
  const standing = <T extends { readonly retired?: boolean | undefined }>(entities: readonly T[]): readonly T[] =>
    entities.some(({ retired }) => retired) ? entities.filter(({ retired }) => !retired) : entities;
  const lines = standing(survey.lines).map((line) => ({ ...line, path: standing(line.path) }));
  const ids = new Set(lines.map(({ id }) => id));
  return {
    ...survey,
    lines,
    outings: standing(survey.outings),
    readings: standing(survey.readings).filter(({ line }) => ids.has(line)),
    references: standing(survey.references),
    surroundings: standing(survey.surroundings),
    features: standing(survey.features),
    photos: standing(survey.photos),
    settlements: standing(survey.settlements),
  };
}

function outsideItem(item: PathItem): PathItem {
  if (item.kind === 'fix') return { ...item, position: untold(item.position), singles: [] };
  if (item.kind === 'two_tapes') return { ...item, first: untold(item.first), second: untold(item.second) };
  return item.kind === 'bearing' ? { ...item, position: untold(item.position) } : item;
}

/** A position without who measured it, with what, and when. */
function untold({ x, y, crs, elevation_m, accuracy_m, accuracy_level }: Position): Position {
  return { x, y, crs, elevation_m, accuracy_m, accuracy_level };
}

function redactOuting(outing: Outing, i: number, outside: boolean, cuts: Cuts): Outing {
  const remotes = cuts.remotes.has(outing.id) ? [] : outing.remotes;
  const name = outside || cuts.texts.has(`outing:${outing.id}`) ? `Outing ${i + 1}` : outing.name;
  if (!outside) return { ...outing, name, remotes };
  const { meter } = outing;
  return {
    ...outing,
    name,
    revised: unsigned(outing.revised),
    date: outing.date?.slice(0, 10) ?? null,
    people: [],
    meter: meter ? { ...meter, serial: null } : meter,
    rods: outing.rods.map((rod) => ({ ...rod, name: null })),
    weather: null,
    remotes: remotes.map((remote) => ({ ...remote, position: untold(remote.position) })),
  };
}

/** What outsiders see of a feature that nothing hides: what it is and where, not who said so. */
function outsideFeature(feature: Feature): Feature {
  return {
    id: feature.id,
    revised: unsigned(feature.revised),
    ...(feature.retired ? { retired: true } : {}),
    type: feature.type,
    name: feature.name,
    status: feature.status,
    shape: feature.shape,
    positions: feature.positions.map(untold),
    ...(feature.parts ? { parts: feature.parts } : {}),
    length_m: feature.length_m,
    width_m: feature.width_m,
    depth_m: feature.depth_m,
    long_axis_deg: feature.long_axis_deg,
    water: feature.water,
    source: feature.source,
    observed_at: feature.observed_at?.slice(0, 10) ?? null,
  };
}

/** Links to, and origins from, hidden features are cut from those that are shown. */
function withoutLinks(feature: Feature, hidden: ReadonlyMap<FeatureId, Protected>): Feature {
  if (hidden.size === 0) return feature;
  const isHidden = (id: string | null | undefined): boolean => typeof id === 'string' && hidden.has(id as FeatureId);
  const { links, origins, merged_into } = feature;
  return {
    ...feature,
    ...(links ? { links: links.filter(({ target }) => !isHidden(target)) } : {}),
    ...(origins ? { origins: origins.filter(({ id }) => !isHidden(id)) } : {}),
    ...(isHidden(merged_into) ? { merged_into: null } : {}),
  };
}

/**
 * A feature by the middle of its cell, and nothing that would tell more: no name, no sizes, no numbers of other lists, no
 * day. Its id is of the cell and its kind, so that shares cannot be joined by it.
 */
function generalised(feature: Feature, { cell, r95M }: Protected, id: FeatureId): Feature {
  if (!cell) throw new Error('only what has a cell is generalised');
  return {
    id,
    revised: { at: null, by: null, count: 0 },
    ...(feature.retired ? { retired: true } : {}),
    type: feature.type,
    name: null,
    status: feature.status,
    shape: 'point',
    positions: [lonLatPosition(cell.middle, cell.reachM + r95M)],
    source: null,
    generalised_grid_m: cell.gridM,
  };
}
