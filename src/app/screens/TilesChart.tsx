import { useMemo } from 'react';
import { fileLook, pageLook } from '../../figures/look';
import { tilesFigure } from '../../figures/tiles';
import { tilesData } from '../../figures/tiles-data';
import { fileNameFrom } from '../words/file-name';
import { FigureView } from './FigureView';
import type { ChartProps } from './LadderChart';

/** All readings of a line at once; nothing where there is one spacing only, which the profile shows better. */
export function TilesChart({ content, here, theme, onSelect }: ChartProps) {
  const { finding, line, midpointSid } = here;
  const { settings } = content.findings.provenance;
  const data = useMemo(() => tilesData(line, finding, settings), [line, finding, settings]);
  const svg = useMemo(() => tilesFigure(data, pageLook(theme), midpointSid), [data, theme, midpointSid]);
  if (data.rows.length < 2) return null;
  return (
    <FigureView
      svg={svg}
      selectedSid={midpointSid}
      onSelect={onSelect}
      name="table of tiles"
      forFile={() => tilesFigure(data, fileLook())}
      fileName={fileNameFrom(['tiles', line.name], 'svg')}
    />
  );
}
