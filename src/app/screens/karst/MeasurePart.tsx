import { useState } from 'react';
import { fileLook, pageLook } from '../../../figures/look';
import { rose } from '../../../figures/rose';
import { EQUAL_AREA_WORDS, GEODESIC_WORDS } from '../../../karst/equal-area';
import { chanceWords, featuresWords, leftOutWords } from '../../../karst/feature-words';
import type { AxesTest } from '../../../karst/long-axes';
import type { IndexTest, NeighbourIndex } from '../../../karst/nearest-neighbour';
import type { Survey } from '../../../survey/survey';
import { metres } from '../../../survey/wording';
import type { Measured } from '../../../workers/karst-table';
import { useAppState } from '../../app-context';
import { useTheme } from '../../theme';
import { FigureView } from '../FigureView';
import { questionOf } from './question-of';
import { Tick } from './Tick';
import { useKarstWork } from './use-karst-work';
import { WorkNote } from './WorkNote';

/** How features lie to each other and which way they run, with the chance of as much by nothing. */
export function MeasurePart({ survey }: { survey: Survey }) {
  const { state, ask, cancel } = useKarstWork<Measured>();
  const [withUnverified, setWithUnverified] = useState(false);
  return (
    <>
      <Tick words="Count unverified depressions and anomalies, too" on={withUnverified} onTurn={setWithUnverified} />
      <button
        type="button"
        className="line-button"
        onClick={() => void ask((client) => client.measure(questionOf(survey, withUnverified)))}
      >
        Measure
      </button>
      <WorkNote state={state} what="Measuring" onCancel={cancel} />
      {state.kind === 'done' && (
        <div role="status">
          <p>
            {featuresWords(state.result.count)} counted. {leftOutWords(state.result.leftOut)}
            {state.result.unplaced.length > 0 ? ` ${state.result.unplaced.length} without a place.` : ''}
          </p>
          <Neighbours found={state.result.neighbours} />
          <Axes found={state.result.axes} />
        </div>
      )}
    </>
  );
}

function patternWords({ index, p }: IndexTest): string {
  if (p >= 0.05) return 'could well be scattered at random';
  return index < 1 ? 'clustered' : 'spaced out';
}

function Neighbours({ found }: { found: NeighbourIndex | null }) {
  if (!found) return <p>Fewer than 8 features: no nearest-neighbour index has a known significance.</p>;
  const { clarkEvans, donnelly, count, coincident, meanDistanceM, areaM2 } = found;
  return (
    <>
      <h3>Nearest neighbours</h3>
      <p>
        With the edge corrected: {patternWords(donnelly)}. The {count} features lie {metres(meanDistanceM)} from their
        nearest neighbour on average; at random it would be {metres(donnelly.expectedM)}.
        {coincident > 0 ? ` ${coincident} share their place with another.` : ''}
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Index</th>
            <th scope="col">R</th>
            <th scope="col">z</th>
            <th scope="col">chance</th>
          </tr>
        </thead>
        <tbody>
          {(
            [
              ['edge corrected (Donnelly 1978)', donnelly],
              ['as it is (Clark & Evans 1954)', clarkEvans],
            ] as const
          ).map(([name, { index, z, p }]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{index.toFixed(3)}</td>
              <td>{z.toFixed(2)}</td>
              <td>{chanceWords(p)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="quiet">
        R is 1 at random, less when clustered, more when spaced out. The region is the hull of the features,{' '}
        {(areaM2 / 1e6).toPrecision(3)} km², which is smaller than the ground that was looked at: that makes them look
        more spaced out than they are. {GEODESIC_WORDS} {EQUAL_AREA_WORDS}
      </p>
    </>
  );
}

function Axes({ found }: { found: AxesTest | null }) {
  const theme = useTheme(useAppState((state) => state.theme));
  if (!found) return <p>No feature says which way its long axis runs.</p>;
  const mean = found.meanDeg === null ? 'no mean axis' : `mean axis ${Math.round(found.meanDeg)}° from true north`;
  const words = `${featuresWords(found.count)} with a long axis; ${mean}. Rayleigh z ${found.rayleighZ.toFixed(2)}: chance of as much with every direction alike ${chanceWords(found.p)}${found.count < 10 ? ' (rough with fewer than 10)' : ''}.`;
  const data = { classes: found.rose, meanDeg: found.p < 0.05 ? found.meanDeg : null, summary: words };
  return (
    <>
      <h3>Long axes</h3>
      <p>
        {words} {found.p < 0.05 ? 'They prefer one direction.' : 'No preferred direction is shown.'}
      </p>
      <FigureView
        svg={rose(data, pageLook(theme))}
        selectedSid=""
        onSelect={() => undefined}
        name="rose"
        forFile={() => rose(data, fileLook())}
        fileName="long-axes.svg"
      />
      <p className="quiet">
        Petals lie on both sides, as an axis has no direction; their areas go with the counts, and the rings say how
        many. The test sees one preferred direction; two at right angles cancel.
      </p>
    </>
  );
}
