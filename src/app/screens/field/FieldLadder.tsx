import { useEffect, useMemo, useRef } from 'react';
import { ladderFigure } from '../../../figures/ladder';
import { pageLook } from '../../../figures/look';
import { metres } from '../../../survey/wording';
import { useAppState } from '../../app-context';
import { fieldLadder } from '../../field/field-ladder';
import { type FieldRecord, findingOf } from '../../field/field-record';
import { figureElement } from '../../figure-element';
import type { Content } from '../../state/app-state';
import { useTheme } from '../../theme';

/** Beside the keys there is little room. */
const PLOT_PX = 150;

/** The ladder of a station as it grows, against the reference. */
export function FieldLadder({
  content,
  record,
  stationM,
  named,
}: {
  content: Content;
  record: FieldRecord;
  stationM: number;
  /** Where it is of another station than the one that is read. */
  named: boolean;
}) {
  const theme = useTheme(useAppState((state) => state.theme));
  const place = useRef<HTMLDivElement>(null);
  const data = useMemo(() => fieldLadder(content, record, stationM), [content, record, stationM]);
  const sid = record.last ? (findingOf(content.findings, record.last)?.key ?? null) : null;
  const svg = useMemo(
    () =>
      data && data.points.length + data.reference.length > 0 ? ladderFigure(data, pageLook(theme), sid, PLOT_PX) : null,
    [data, theme, sid],
  );
  useEffect(() => {
    const host = place.current;
    if (!host || svg === null) return;
    host.replaceChildren(figureElement(svg, sid));
    return () => host.replaceChildren();
  }, [svg, sid]);

  if (!data)
    return <p className="quiet">This line has no place yet: its readings are kept, and compared once it has.</p>;
  if (svg === null) return <p className="quiet">The ladder at {metres(stationM)} draws itself here.</p>;
  return (
    <>
      {named && <p className="field-ladder-head">Ladder at {metres(stationM)}</p>}
      <div ref={place} className="figure-place field-ladder" />
    </>
  );
}
