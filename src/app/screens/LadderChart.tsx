import { useMemo } from 'react';
import { ladderFigure } from '../../figures/ladder';
import { ladderData } from '../../figures/ladder-data';
import { fileLook, pageLook } from '../../figures/look';
import type { Theme } from '../../map/ramp';
import { metres } from '../../survey/wording';
import type { Content } from '../state/app-state';
import type { ReadingEntry } from '../state/reading-index';
import { fileNameFrom } from '../words/file-name';
import { FigureView } from './FigureView';

export interface ChartProps {
  readonly content: Content;
  readonly here: ReadingEntry;
  readonly theme: Theme;
  readonly onSelect: (sid: string) => void;
}

/** The spacings of a place as a figure; nothing where there is only one. */
export function LadderChart({ content, here, theme, onSelect }: ChartProps) {
  const { finding, line, midpointSid } = here;
  const data = useMemo(
    () => ladderData(line, finding.chainageM, finding.hookup, content.findings.references, content.survey.readings),
    [content, line, finding],
  );
  const svg = useMemo(() => ladderFigure(data, pageLook(theme), midpointSid), [data, theme, midpointSid]);
  if (data.points.filter(({ figureOhmM, overRange }) => figureOhmM !== null || overRange).length < 2) return null;
  return (
    <FigureView
      svg={svg}
      selectedSid={midpointSid}
      onSelect={onSelect}
      name="ladder"
      forFile={() => ladderFigure(data, fileLook())}
      fileName={fileNameFrom(['ladder', line.name, metres(finding.chainageM)], 'svg')}
    />
  );
}
