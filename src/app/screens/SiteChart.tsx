import { useDeferredValue, useMemo } from 'react';
import { fileLook, pageLook } from '../../figures/look';
import { siteFigure } from '../../figures/site';
import { type SiteData, siteData } from '../../figures/site-data';
import type { Theme } from '../../map/ramp';
import { HOOKUP_LABEL } from '../../survey/hookup';
import { useAppState } from '../app-context';
import type { Content } from '../state/app-state';
import { useTheme } from '../theme';
import { fileNameFrom } from '../words/file-name';
import { FigureView } from './FigureView';

/** Whether whole lines stand above or below what they are compared with; nothing where nothing is. */
export function SiteChart({ content }: { content: Content }) {
  const theme = useTheme(useAppState((state) => state.theme));
  // It looks at every reading: typing goes first.
  const findings = useDeferredValue(content.findings);
  const charts = useMemo(() => siteData(findings), [findings]);
  if (charts.length === 0) return null;
  return (
    <section aria-labelledby="site-head">
      <h2 id="site-head">The site against its reference</h2>
      <p>
        The middle of each line at each spacing, and behind its name how many times its reference it is. A whole line
        above or below at all spacings can mean other soil, a reference that is not its own, or that it runs along a
        hollow; what crosses a line shows in parts of it. Where days differ, a line is judged by its own.
      </p>
      {charts.map((data) => (
        <HookupChart key={data.hookup} data={data} theme={theme} />
      ))}
    </section>
  );
}

function HookupChart({ data, theme }: { data: SiteData; theme: Theme }) {
  const svg = useMemo(() => siteFigure(data, pageLook(theme)), [data, theme]);
  const name = HOOKUP_LABEL[data.hookup];
  return (
    <>
      <h3>{name.replace(/^./, (first) => first.toUpperCase())}</h3>
      <FigureView
        svg={svg}
        selectedSid=""
        onSelect={() => undefined}
        name={`${name} chart`}
        forFile={() => siteFigure(data, fileLook())}
        fileName={fileNameFrom(['lines-against-reference', name], 'svg')}
      />
    </>
  );
}
