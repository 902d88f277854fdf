import { useMemo } from 'react';
import { fileLook, pageLook } from '../../figures/look';
import { profileFigure } from '../../figures/profile';
import { profileData } from '../../figures/profile-data';
import { metres } from '../../survey/wording';
import { fileNameFrom } from '../words/file-name';
import { FigureView } from './FigureView';
import type { ChartProps } from './LadderChart';

/** The line of a reading at its spacing, as ratios to the reference; nothing where nothing could be compared. */
export function ProfileChart({ content, here, theme, onSelect }: ChartProps) {
  const { finding, line, midpointSid } = here;
  const { settings } = content.findings.provenance;
  const data = useMemo(() => profileData(line, finding, [finding.spacingM], settings), [line, finding, settings]);
  const svg = useMemo(() => profileFigure(data, pageLook(theme), midpointSid), [data, theme, midpointSid]);
  const compared = data.strips
    .flatMap(({ points }) => points)
    .filter(({ ratio, overRange }) => ratio !== null || overRange);
  if (compared.length < 2) return null;
  const spacing = finding.spacingM === null ? [] : ['spacing', metres(finding.spacingM)];
  return (
    <FigureView
      svg={svg}
      selectedSid={midpointSid}
      onSelect={onSelect}
      name="profile"
      forFile={() => profileFigure(data, fileLook())}
      fileName={fileNameFrom(['profile', line.name, ...spacing], 'svg')}
    />
  );
}
