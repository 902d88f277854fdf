import { useMemo, useState } from 'react';
import type { Line } from '../../../survey/survey';
import type { Content } from '../../state/app-state';
import { remoteCostWords, remotesBeside } from '../../state/remote-cost';
import { typedNumber } from '../../state/typed-value';

/** The widest spacing read on the line, by which far has to be judged; 10 m before there are readings. */
function widestM({ findings }: Content, line: Line): number {
  const found = findings.lines.find(({ lineId }) => lineId === line.id);
  return Math.max(0, ...(found?.midpoints.map(({ spacingM }) => spacingM ?? 0) ?? [])) || 10;
}

const positive = (text: string): number | null => {
  const number = typedNumber(text);
  return number.ok && number.value > 0 ? number.value : null;
};

/** What it costs that remote electrodes are not infinitely far. */
export function RemoteCost({ content, line }: { content: Content; line: Line }) {
  const [remote, setRemote] = useState('');
  const [spacing, setSpacing] = useState(() => String(widestM(content, line)));
  const found = content.findings.lines.find(({ lineId }) => lineId === line.id);
  const outings = useMemo(() => (found ? remotesBeside(content.survey, found) : []), [content.survey, found]);
  const [remoteM, spacingM] = [positive(remote), positive(spacing)];
  return (
    <section aria-labelledby="remotes-head">
      <h2 id="remotes-head">Remote electrodes</h2>
      <div className="lay-fields">
        <label className="lay-field">
          <span>Remotes away, m</span>
          <input
            type="text"
            inputMode="decimal"
            autoComplete="off"
            value={remote}
            onChange={({ target }) => setRemote(target.value)}
          />
        </label>
        <label className="lay-field">
          <span>Widest spacing a, m</span>
          <input
            type="text"
            inputMode="decimal"
            autoComplete="off"
            value={spacing}
            onChange={({ target }) => setSpacing(target.value)}
          />
        </label>
      </div>
      <p role="status">{remoteM !== null && spacingM !== null && remoteCostWords(spacingM, remoteM)}</p>
      {spacingM !== null &&
        outings.map(({ outing, nearestM }) => (
          <p key={outing}>
            {outing}: {remoteCostWords(spacingM, Math.round(nearestM))}
          </p>
        ))}
      <p className="quiet">Where the places of the remotes are written down they are counted as they stood.</p>
    </section>
  );
}
