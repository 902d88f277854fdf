import { useState } from 'react';
import { GEODESIC_WORDS } from '../../../karst/equal-area';
import { featureName, leftOutWords } from '../../../karst/feature-words';
import type { Feature } from '../../../survey/survey';
import { metres } from '../../../survey/wording';
import type { KarstTable } from '../../../workers/karst-table';
import { useApp } from '../../app-context';
import type { Content } from '../../state/app-state';
import { typedNumber } from '../../state/typed-value';
import { questionOf } from './question-of';
import { SendZone } from './SendZone';
import { Tick } from './Tick';
import { useKarstWork } from './use-karst-work';
import { WorkNote } from './WorkNote';
import { zoneArea } from './zone-area';

/** Distances that are listed. */
const MOST = 100;

/** The zones of the survey: into the inventory, and how far its features lie from them. */
export function ZonesPart({ content, onOpen }: { content: Content; onOpen: (id: Feature['id']) => void }) {
  const { store } = useApp();
  const { state, ask, cancel } = useKarstWork<ReturnType<KarstTable['distances']>>();
  const [within, setWithin] = useState('500');
  const [withUnverified, setWithUnverified] = useState(false);
  const { survey, findings } = content;
  const { zones } = findings;
  if (zones.length === 0) return <p>This survey has no zones.</p>;
  const typed = typedNumber(within);
  const withinM = typed.ok ? typed.value : Number.NaN;
  const nameOf = new Map(zones.map(({ key, name }) => [key, name]));
  const byId = new Map(survey.features.map((feature) => [feature.id, feature]));
  const measure = (): void => {
    const layers = store.get().drawn?.layers ?? null;
    const footprints = zones.map(({ key, name }) => ({
      key,
      name,
      rings: zoneArea(layers, key).flatMap((polygon) =>
        polygon.map((ring) => ring.map(([lon = 0, lat = 0]) => ({ lon, lat }))),
      ),
    }));
    void ask((client) => client.distances(questionOf(survey, withUnverified), footprints, withinM));
  };
  // What was made from a zone lies in it.
  const found =
    state.kind === 'done'
      ? state.result.found.filter(
          ({ footprint, featureId }) => !byId.get(featureId)?.links?.some(({ target }) => target === footprint),
        )
      : [];
  return (
    <>
      <p className="quiet">A zone goes into the inventory as a geophysical anomaly, unverified, with its evidence.</p>
      <ul className="row-list">
        {zones.map((zone) => (
          <li key={zone.key} className="karst-zone">
            <h3>{zone.name}</h3>
            <SendZone survey={survey} zone={zone} />
          </li>
        ))}
      </ul>
      <label className="karst-field">
        <span>Features within, m</span>
        <input inputMode="decimal" value={within} onChange={(event) => setWithin(event.target.value)} />
      </label>
      {!typed.ok && <p role="alert">{typed.sentence}</p>}
      <Tick words="Unverified depressions and anomalies, too" on={withUnverified} onTurn={setWithUnverified} />
      <button type="button" className="line-button" disabled={!(withinM > 0)} onClick={measure}>
        Measure distances from the zones
      </button>
      <WorkNote state={state} what="Measuring distances" onCancel={cancel} />
      {state.kind === 'done' && (
        <>
          <p role="status">
            {found.length === 0 ? `No feature lies within ${metres(withinM)} of a zone.` : ''}{' '}
            {leftOutWords(state.result.leftOut)} {GEODESIC_WORDS}
          </p>
          {found.length > 0 && (
            <table>
              <thead>
                <tr>
                  <th scope="col">Feature</th>
                  <th scope="col">Zone</th>
                  <th scope="col">Distance</th>
                  <th scope="col">Its 95 % radius</th>
                </tr>
              </thead>
              <tbody>
                {found.slice(0, MOST).map(({ footprint, featureId, distanceM, r95M }) => {
                  const feature = byId.get(featureId);
                  return (
                    <tr key={`${footprint} ${featureId}`}>
                      <td>
                        <button type="button" className="cell-button" onClick={() => onOpen(featureId)}>
                          {feature ? featureName(feature) : featureId}
                        </button>
                      </td>
                      <td>{nameOf.get(footprint)}</td>
                      <td>{metres(Math.round(distanceM))}</td>
                      <td>{metres(r95M)}</td>
                    </tr>
                  );
                })}
              </tbody>
            </table>
          )}
          {found.length > MOST && <p className="quiet">And {found.length - MOST} more, farther away.</p>}
        </>
      )}
    </>
  );
}
