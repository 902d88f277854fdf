import { useMemo } from 'react';
import { typeWords } from '../../../karst/feature-words';
import { featureTypeOf } from '../../../survey/feature-type';
import type { Feature, Survey } from '../../../survey/survey';
import { useApp, useAppState } from '../../app-context';
import { SymbolView } from './SymbolView';
import { Tick } from './Tick';

/** The symbols that are on the map, and which layers of the inventory lie on it. */
export function KarstLayers({ survey }: { survey: Survey }) {
  const { store } = useApp();
  const { shown, density, setbacks } = useAppState((state) => state.karst);
  const { types, unknown, hasRejected } = useMemo(() => countsOf(survey.features), [survey.features]);
  const turn = (layer: keyof typeof shown) => (on: boolean) =>
    store.dispatch({ type: 'karst', karst: { shown: { ...shown, [layer]: on } } });
  return (
    <section aria-labelledby="karst-legend-head">
      <h2 id="karst-legend-head">On the map</h2>
      <Tick words="Features" on={shown.features} onTurn={turn('features')} />
      {density && <Tick words={`Density: ${density.words}`} on={shown.density} onTurn={turn('density')} />}
      {setbacks && <Tick words={`Setbacks: ${setbacks.words}`} on={shown.setbacks} onTurn={turn('setbacks')} />}
      {shown.features && (
        <ul className="legend">
          {types.map(([type, count]) => (
            <li key={type}>
              <SymbolView type={type} />
              <span>
                {typeWords(type)}, {count}
              </span>
            </li>
          ))}
          {unknown > 0 && (
            <li>
              <SymbolView type="" />
              <span>of no type that is known here, {unknown}</span>
            </li>
          )}
          {hasRejected && (
            <li>
              <SymbolView type="sinkhole_unknown" rejected />
              <span>struck through: rejected, whatever the symbol</span>
            </li>
          )}
        </ul>
      )}
      <p className="quiet">A ring with a number stands for so many features that lie close; a tap goes nearer.</p>
    </section>
  );
}

function countsOf(features: readonly Feature[]) {
  const counts = new Map<string, number>();
  let [unknown, hasRejected] = [0, false];
  for (const { type, status, retired } of features) {
    if (retired) continue;
    const known = featureTypeOf(type);
    if (known === null) unknown += 1;
    else counts.set(known, (counts.get(known) ?? 0) + 1);
    hasRejected ||= status === 'rejected';
  }
  return { types: [...counts].sort(([p, m], [q, n]) => n - m || (p < q ? -1 : 1)), unknown, hasRejected };
}
