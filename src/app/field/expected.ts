import type { Findings, MidpointFinding } from '../../findings';
import { type Hookup, isTwoProbe } from '../../survey/hookup';
import type { LineId } from '../../survey/ids';
import { isSameSpot, type Spot } from './round';
import type { Expected } from './unit-check';

/** How many neighbours on the line are asked. */
const NEIGHBOURS = 6;
/** A reference is asked at spacings no farther off than this factor. */
const SPACING_REACH = 1.25;

/** What is known that a reading at a spot can be set against, the nearest kin first. */
export function expectedAt(findings: Findings, line: LineId, hookup: Hookup, spot: Spot): readonly Expected[] {
  const own = findings.lines.find(({ lineId }) => lineId === line)?.midpoints ?? [];
  const alike = own.filter((finding) => finding.hookup === hookup && finding.figureOhmM !== null);
  const level = referenceLevel(findings, hookup, spot.spacingM);
  const neighbours = medianFigure(nearest(alike.filter(isAt(spot.spacingM)), spot));
  const ladder = medianFigure(
    alike
      .filter(({ chainageM, spacingM }) => spacingM !== null && Math.abs(chainageM - spot.stationM) < 0.005)
      .sort((p, q) => apart(p, spot) - apart(q, spot))
      .slice(0, 1),
  );
  return [
    ...(level === null ? [] : [{ figureOhmM: level, what: 'reference' as const }]),
    ...(neighbours === null ? [] : [{ figureOhmM: neighbours, what: 'neighbours' as const }]),
    ...(ladder === null ? [] : [{ figureOhmM: ladder, what: 'ladder' as const }]),
  ];
}

const isAt =
  (wantedM: number) =>
  ({ spacingM }: MidpointFinding): boolean =>
    spacingM !== null && Math.abs(spacingM - wantedM) < 0.0005;

const apart = ({ spacingM }: MidpointFinding, spot: Spot): number =>
  Math.abs(Math.log((spacingM ?? 1) / spot.spacingM));

/** The spot itself is left out: a slip must not excuse its own repeat. */
function nearest(findings: readonly MidpointFinding[], spot: Spot): readonly MidpointFinding[] {
  return findings
    .filter(({ chainageM, spacingM }) => !isSameSpot({ stationM: chainageM, spacingM: spacingM ?? 0 }, spot))
    .sort((p, q) => Math.abs(p.chainageM - spot.stationM) - Math.abs(q.chainageM - spot.stationM))
    .slice(0, NEIGHBOURS);
}

function medianFigure(findings: readonly MidpointFinding[]): number | null {
  const figures = findings.flatMap(({ figureOhmM }) => figureOhmM ?? []).sort((p, q) => p - q);
  return figures[Math.floor((figures.length - 1) / 2)] ?? null;
}

/** Pooled over days and wettings where there is such a curve: a thousandfold slip does not care. */
function referenceLevel({ references }: Findings, hookup: Hookup, spacingM: number): number | null {
  const family = isTwoProbe(hookup) ? 'two_probe' : hookup;
  const curves = references
    .filter((curve) => curve.hookup === family)
    .sort((p, q) => Number(p.day !== null) - Number(q.day !== null));
  for (const { points } of curves) {
    const [nearestPoint] = points
      .filter((point) => point.spacingM !== null && factor(point.spacingM, spacingM) <= SPACING_REACH)
      .sort((p, q) => factor(p.spacingM ?? 1, spacingM) - factor(q.spacingM ?? 1, spacingM));
    if (nearestPoint) return nearestPoint.figureOhmM;
  }
  return null;
}

const factor = (p: number, q: number): number => Math.max(p / q, q / p);
