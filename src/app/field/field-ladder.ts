import { type LadderData, ladderData } from '../../figures/ladder-data';
import { isTwoProbe } from '../../survey/hookup';
import type { Content } from '../state/app-state';
import type { FieldRecord } from './field-record';

/**
 * The ladder of a station as it stands, with the reference to expect before its first reading. Null for a line that has
 * no place yet, whose readings are kept but compared with nothing.
 */
export function fieldLadder(
  { findings, survey }: Content,
  { line, hookup, plan, outing }: FieldRecord,
  stationM: number,
): LadderData | null {
  const found = findings.lines.find(({ lineId }) => lineId === line.id);
  if (!found) return null;
  const data = ladderData(found, stationM, hookup, findings.references, survey.readings);
  if (data.reference.length > 0) return data;
  const family = isTwoProbe(hookup) ? 'two_probe' : hookup;
  const own = findings.references.filter((curve) => curve.hookup === family);
  const curve =
    own.find(({ day }) => day === outing.id) ??
    own.find(({ day, wetting }) => day === null && wetting === null) ??
    own[0];
  const [least, most] = [Math.min(...plan.spacingsM), Math.max(...plan.spacingsM)];
  return {
    ...data,
    reference: (curve?.points ?? []).flatMap(({ spacingM, figureOhmM, scatterLn }) =>
      spacingM === null || spacingM < least * 0.999 || spacingM > most * 1.001
        ? []
        : [{ spacingM, levelOhmM: figureOhmM, halfWidthLn: scatterLn, basis: 'scatter' as const }],
    ),
  };
}
