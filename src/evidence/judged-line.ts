import type { Findings, LineFindings, Settings } from '../findings';
import { radius95M } from '../position/accuracy';
import type { Doubt } from '../survey/doubt';
import type { Hookup } from '../survey/hookup';
import type { OutingId, ReadingId } from '../survey/ids';
import type { LocalGrid } from '../survey/survey';
import { corridorsOf } from './corridors';
import type { PlacedThing, ScoredPlace, StationPlace } from './doubts/doubt-context';
import { findDoubts } from './doubts/find-doubts';
import { electrodesOf } from './electrodes';
import { controlled } from './false-discovery';
import { ladderSlope } from './ladder-slope';
import { levelsOf, withoutLevels } from './level';
import { codesByReading, midpointFinding } from './midpoint-finding';
import { laddersOf, placesOf } from './place';
import type { PlacedLine, Unusable } from './placed-line';
import type { References } from './reference';
import { scorePlace } from './score';
import { stepRatiosOf } from './step-ratio';
import { stretchesOf } from './stretch';
import { trackVertices } from './track-vertices';

/** What of the whole site a line's doubts look at. */
export interface Around {
  readonly things: readonly PlacedThing[];
  readonly stations: readonly StationPlace[];
}

export interface JudgedLine {
  readonly findings: LineFindings | null;
  readonly doubts: readonly Doubt[];
  readonly unusable: readonly Unusable[];
  readonly unplaced: Findings['unplaced'][number] | null;
}

/** Compares a placed line with the reference, grades it and says what is doubtful. */
export function judgedLine(
  { line, placed, figures, unusable, planned }: PlacedLine,
  references: References,
  grids: readonly LocalGrid[],
  settings: Settings,
  around: Around,
): JudgedLine {
  const places = placesOf(figures);
  const ladders = laddersOf(places);
  const slopes = ladders.map(ladderSlope).filter((slope) => slope !== null);
  const asRead = places.map((place): ScoredPlace => ({ place, score: scorePlace(place, references, settings) }));
  const levels = levelsOf(ladders, asRead, settings);
  const { places: scored, discovery } = controlled(withoutLevels(asRead, levels, settings), settings);
  const doubts = findDoubts({ line, placed, figures, places: scored, slopes, settings, ...around });
  if (!placed.ok) {
    const unplaced = { lineId: line.id, name: line.name, sentence: placed.sentence };
    return { findings: null, doubts, unusable, unplaced };
  }

  const { track } = placed;
  const steps = stepRatiosOf(
    ladders,
    scored.map(({ score }) => score),
  );
  const stretches = stretchesOf(places, track);
  const context = { line, track, settings, stretches, steps, codes: codesByReading(doubts) };
  const midpoints = scored.map(({ place, score }) => midpointFinding(place, score, context));
  const hookups = new Set<Hookup>();
  const outings = new Set<OutingId>();
  for (const { hookup, outing } of figures) {
    hookups.add(hookup);
    if (outing) outings.add(outing.id);
  }
  return {
    doubts,
    unusable,
    unplaced: null,
    findings: {
      lineId: line.id,
      name: line.name,
      hookups: hookups.size > 0 ? [...hookups] : line.hookup ? [line.hookup] : [],
      lengthM: track.toM - track.fromM,
      readingCount: figures.length,
      outings: [...outings],
      track: trackVertices(track, midpoints),
      controls: track.controls.map((control) => ({
        id: control.id,
        chainageM: control.chainageM,
        lon: control.place.lon,
        lat: control.place.lat,
        kind: control.kind,
        source: control.source,
        residualM: control.residualM,
        residualSigma: control.residualSigma,
        gross: control.gross,
        uncertainty95M: radius95M(control.sigmaM),
      })),
      electrodes: electrodesOf(line, track, figures, planned, grids),
      midpoints,
      corridors: corridorsOf(scored, stretches, contactReadings(doubts), settings),
      tapeGpsScale: track.tapeGpsScale,
      tapeGpsScaleError95: track.tapeGpsScaleError95,
      levels,
      discovery,
    },
  };
}

/** Readings that may be mostly contact although their hookup says otherwise: no void size can be excluded by them. */
function contactReadings(doubts: readonly Doubt[]): ReadonlySet<ReadingId> {
  const found = doubts.filter(
    ({ code, severity }) => code === 'not_pole_pole' || (code === 'contact_suspected' && severity === 'warning'),
  );
  return new Set(found.flatMap(({ readings }) => readings));
}
