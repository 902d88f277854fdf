import { type FeatureId, type LineId, makeId } from '../survey/ids';
import type { Feature, Outing, PathItem, Position, Reading, Revised, Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import type { Cuts } from './cuts';
import { idsIn } from './fresh-ids';
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
  const tellsRemote = outside ? () => false : remoteTeller(base, cuts);
  const isGone = goneFrom(base, byId, cuts, tellsRemote);
  const inCells = new Map<string, number>();
  const blurred: Feature[] = [];
  const exact = base.features.flatMap((feature): Feature[] => {
    const own = byId.get(feature.id);
    if (!own) return [outside ? outsideFeature(feature) : withoutLinks(feature, byId, isGone)];
    if (!own.cell) return [];
    const { row, column, gridM } = own.cell;
    const key = `${feature.type}|${gridM}|${row}|${column}`;
    const ordinal = inCells.get(key) ?? 0;
    inCells.set(key, ordinal + 1);
    blurred.push(generalised(feature, own, makeId('feature', 'generalised', `${key}|${ordinal}`)));
    return [];
  });
  // Lists are often kept in order of place: the neighbours of what is blurred would say where.
  const features = [...exact, ...blurred.sort((p, q) => (p.id < q.id ? -1 : 1))];
  const lineNames = new Set(base.lines.filter(({ id }) => !cuts.texts.has(`line:${id}`)).map(({ name }) => name));
  let lineOrdinal = 0;
  const nextLineName = (): string => {
    do lineOrdinal += 1;
    while (lineNames.has(`Line ${lineOrdinal}`));
    return `Line ${lineOrdinal}`;
  };
  const { shares: _shares, ...site } = base.site;
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
    outings: outingsStill(base, cuts).map((outing, i) => redactOuting(outing, i, outside, cuts)),
    lines: base.lines
      .filter(({ id }) => seesLine(id))
      .map((line) => ({
        ...line,
        ...(outside ? { revised: unsigned(line.revised) } : {}),
        name: cuts.texts.has(`line:${line.id}`) ? nextLineName() : line.name,
        path: line.path
          .filter((item) => item.kind !== 'offset' || seesLine(item.base_line))
          .map((item) => (outside ? outsideItem(item) : item)),
      })),
    readings: base.readings
      .filter((reading) => seesLine(reading.line) && !tellsRemote(reading))
      .map((reading) => {
        const noteless = outside || cuts.texts.has(`reading:${reading.id}`) ? { note: null, status_reason: null } : {};
        // Rods are called after people and places.
        const { seatings: _seatings, ...rest } = reading;
        return outside
          ? {
              ...rest,
              ...noteless,
              revised: unsigned(reading.revised),
              time: reading.time?.slice(0, 10) ?? null,
              ...(reading.position ? { position: untold(reading.position) } : {}),
            }
          : { ...reading, ...noteless };
      }),
    references: base.references
      .map((reference) => ({ ...reference, stations: reference.stations.filter(({ line }) => seesLine(line)) }))
      .filter(({ stations }) => stations.length > 0)
      .map((reference, i) => ({
        ...reference,
        ...(outside ? { revised: unsigned(reference.revised) } : {}),
        name: cuts.texts.has(`reference:${reference.id}`) ? `Reference ${i + 1}` : reference.name,
        ...(reference.serves ? { serves: reference.serves.filter(seesLine) } : {}),
      })),
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
    photos: outside ? [] : base.photos.filter(({ id, subject }) => !cuts.texts.has(`photo:${id}`) && !isGone(subject)),
    settlements: outside
      ? []
      : base.settlements.filter(
          ({ id, doubt }) =>
            !cuts.texts.has(`settlement:${id}`) &&
            !isGone(doubt) &&
            // Which doubt about an opening was settled says that there is one, and where along the line.
            !(hidden.length > 0 && doubt.startsWith('near_opening:')),
        ),
  };
}

/** Tells of a text whether it names something that the share does not hold: by its id, alone or in a longer key. */
function goneFrom(
  base: Survey,
  hidden: ReadonlyMap<FeatureId, Protected>,
  cuts: Cuts,
  tellsRemote: (reading: Reading) => boolean,
): (text: string | null | undefined) => boolean {
  const gone = new Set<string>([...hidden.keys(), ...cuts.lines, ...cuts.zones, ...cuts.surroundings]);
  if (gone.size === 0 && cuts.remotes.size === 0) return () => false;
  for (const reading of base.readings) if (cuts.lines.has(reading.line) || tellsRemote(reading)) gone.add(reading.id);
  return (text) => typeof text === 'string' && (gone.has(text) || idsIn(text).some((id) => gone.has(id)));
}

/**
 * Raw readings that used remotes which are left out: a value beside its figure is the geometric factor, and some of those are
 * circles about the remote. The figures stay.
 */
function remoteTeller({ lines }: Survey, cuts: Cuts): (reading: Reading) => boolean {
  if (cuts.remotes.size === 0) return () => false;
  const ofLine = new Map(lines.map(({ id, hookup }) => [id, hookup]));
  return ({ outing, line, hookup, electrodes }) => {
    if (!outing || !cuts.remotes.has(outing)) return false;
    const own = hookup ?? ofLine.get(line);
    const isRemote = electrodes && Object.values(electrodes).includes(null);
    return isRemote || own === 'pole_pole' || own === 'pole_dipole';
  };
}

/** Days on which nothing was read but what is left out are left out with it. */
function outingsStill({ outings, readings }: Survey, cuts: Cuts): readonly Outing[] {
  if (cuts.lines.size === 0) return outings;
  const [all, shown] = [new Set<string>(), new Set<string>()];
  for (const { outing, line } of readings) {
    if (!outing) continue;
    all.add(outing);
    if (!cuts.lines.has(line)) shown.add(outing);
  }
  return outings.filter(({ id }) => shown.has(id) || !all.has(id));
}

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

/** Links to what is not in the share, and origins from hidden features, are cut from those that are shown. */
function withoutLinks(
  feature: Feature,
  hidden: ReadonlyMap<FeatureId, Protected>,
  isGone: (text: string | null | undefined) => boolean,
): Feature {
  if (hidden.size === 0) return feature;
  const { links, origins, merged_into, distinct_from, evidence } = feature;
  return {
    ...feature,
    ...(links ? { links: links.filter(({ target }) => !isGone(target)) } : {}),
    ...(origins ? { origins: origins.filter(({ id }) => !isGone(id)) } : {}),
    ...(isGone(merged_into) ? { merged_into: null } : {}),
    ...(distinct_from ? { distinct_from: distinct_from.filter((id) => !isGone(id)) } : {}),
    // Evidence of a line that is not shown says that the line was there.
    ...(evidence && isGone(JSON.stringify(evidence)) ? { evidence: null } : {}),
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
